// Tells the desk now and then that a page is open, and says so when it does not answer. Everything works without this.
const EVERY_MS = 20_000;
const token = document.body.dataset.token;
const gone = document.getElementById("gone");

async function alive() {
  try {
    const answer = await fetch("/alive", { method: "POST", body: new URLSearchParams({ token }) });
    gone.hidden = answer.ok;
  } catch {
    gone.hidden = false;
  }
}
setInterval(alive, EVERY_MS);
document.addEventListener("visibilitychange", () => {
  if (!document.hidden) alive();
});
const told = document.querySelector('.faults[tabindex="-1"], .done[tabindex="-1"]');
if (told) told.focus();
for (const field of document.querySelectorAll('input[type="date"]')) {
  const now = new Date();
  if (!field.value) field.value = new Date(now - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 10);
}
