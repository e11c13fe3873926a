// Groups of small toggles: a field that holds several of a few choices.

const boxes = (group) => [...group.querySelectorAll("input")];

// What a group says after one of its boxes was touched; "" leaves the field to what is usual.
export function listText(group, touched) {
  if (touched.value === "" && touched.checked) return "";
  const chosen = boxes(group).filter((box) => box.value && box.checked).map((box) => box.value);
  return chosen.join(", ") || "none";
}

// Set the boxes to what was typed; to what the page holds where nothing is given.
export function showList(group, text) {
  const chosen = text?.split(",").map((part) => part.trim());
  for (const box of boxes(group)) {
    const held = box.hasAttribute("checked");
    if (text === undefined) box.checked = held;
    else if (box.value === "") box.checked = text === "";
    else if (text !== "") box.checked = chosen.includes(box.value);
  }
}
