"""The desk: a local app in the browser, one sheet for each part of the work."""
