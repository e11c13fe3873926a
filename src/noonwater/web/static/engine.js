// The engine's compilation: shows how far it is, and opens the page that was asked for when done.

const LOOK = 400; // [ms] between two looks

const made = document.getElementById("made");
const said = document.getElementById("said");

async function look() {
  try {
    const stand = await (await fetch("/engine")).json();
    if (stand.ready) { location.reload(); return; }
    made.max = stand.of;
    made.value = stand.done;
    if (said.textContent !== stand.words) said.textContent = stand.words;
  } catch {
    said.textContent = "The desk does not answer; start it again.";
  }
  setTimeout(look, LOOK);
}
look();
