// Shows how far the work is, and what came of it, without the page being loaded anew.
const shown = document.getElementById("job");
const LOOK_MS = 400;

async function look() {
  const answer = await fetch(`/job/${shown.dataset.job}/state`);
  if (!answer.ok) return;
  if (answer.headers.get("X-Job") === "over") { location.reload(); return; }
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  shown.replaceChildren(...page.body.childNodes);
  setTimeout(look, LOOK_MS);
}
if (shown.dataset.running === "yes") setTimeout(look, LOOK_MS);
