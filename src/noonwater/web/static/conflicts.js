// What could not be merged, told above the sheet until it is settled: both texts, and a choice.

const place = document.getElementById("conflicts");
const SHOWN = 80; // [characters] of a text

const short = (text) => (text.length > SHOWN ? `${text.slice(0, SHOWN)}…` : text);

// Draw every open conflict of the keeper; `take` is given the change that the user stands by.
export function showConflicts(keeper, take) {
  place.replaceChildren(...keeper.unsettled.map((conflict) => {
    const line = document.createElement("p");
    line.append(words(conflict));
    const settle = () => { keeper.settle(conflict); showConflicts(keeper, take); };
    if (conflict.theirs !== undefined && conflict.act === "set") {
      line.append(" ", button("Take mine", () => {
        settle();
        take({ field: conflict.field, text: conflict.yours, act: "set" }, conflict.newest);
      }), " ", button("Keep theirs", settle));
    } else line.append(" ", button("Understood", settle));
    return line;
  }));
}

function words({ field, name, yours, theirs, act, given }) {
  const called = name || field;
  if (given !== undefined) return `${called}: ${given}. Yours: “${short(yours)}”.`;
  if (act !== "set") return `${called}: another page added or took out one meanwhile. Do yours again if it is still wanted.`;
  return `${called} was set to “${short(theirs)}” by another page. Yours: “${short(yours)}”.`;
}

function button(text, onclick) {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = text;
  made.onclick = onclick;
  return made;
}
