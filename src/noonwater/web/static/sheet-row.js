// On a telephone the row of sheets is longer than the screen: the sheet that is open is brought into it.

const row = document.querySelector(".sheets");
const open = row.querySelector("[aria-current]");
if (open) row.scrollLeft = open.offsetLeft - row.offsetLeft - (row.clientWidth - open.offsetWidth) / 2;
