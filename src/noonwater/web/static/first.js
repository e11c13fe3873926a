// The first answer's range: asked for when the page is there, since it takes some seconds.

const line = document.getElementById("range");
try {
  const reply = await fetch(line.dataset.range);
  const answer = await reply.json();
  if (!reply.ok) throw new Error(answer.detail);
  document.getElementById("figures").innerHTML = answer.rows;
  line.textContent = answer.words;
} catch (error) {
  line.textContent = `No range: ${error.message}`;
}
document.documentElement.dataset.ready = "yes";
