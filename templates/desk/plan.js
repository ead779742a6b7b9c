// The page of a plan, live: what is changed is saved after a moment, faults come and go beside their fields, and what the
// plan would give is worked out by itself. The form does all of it without this.
const form = document.getElementById("plan");
const token = document.body.dataset.token;
const SAVE_MS = 500;
const LOOK_MS = 700;
const STALE_MS = 4_000;
let timer = 0;
let saving = false;
let again = false;

function take(page) {
  for (const each of page.querySelectorAll("[data-live]")) {
    const here = document.getElementById(each.id);
    if (here && here.innerHTML !== each.innerHTML) here.replaceChildren(...each.cloneNode(true).childNodes);
  }
  const seen = page.getElementById("seen");
  if (seen) for (const each of document.querySelectorAll("[name=seen]")) each.value = seen.value;
  const text = page.getElementById("whole");
  if (text) document.getElementById("whole").value = text.value;
  for (const field of document.querySelectorAll("#plan .field[id]")) {
    const other = page.getElementById(field.id);
    if (!other) continue;
    field.classList.toggle("wrong", other.classList.contains("wrong"));
    field.querySelector(":scope > .fault")?.remove();
    const fault = other.querySelector(":scope > .fault");
    if (fault) field.append(fault.cloneNode(true));
    const input = field.querySelector(":scope > input, :scope > textarea, :scope > select");
    input?.toggleAttribute("aria-invalid", false);
    if (fault && input) input.setAttribute("aria-invalid", "true");
    field.querySelectorAll("img.notation").forEach((image, n) => {
      const fresh = other.querySelectorAll("img.notation")[n];
      if (fresh && fresh.srcset !== image.srcset) { image.srcset = fresh.srcset; image.alt = fresh.alt; }
    });
  }
}

async function save() {
  if (saving) { again = true; return; }
  saving = true;
  const saved = document.getElementById("saved");
  saved.textContent = form.dataset.saving;
  try {
    const answer = await fetch(form.action, { method: "POST", body: new URLSearchParams(new FormData(form)) });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (answer.ok) {
      take(page);
      saved.textContent = form.dataset.saved;
      preview();
    } else {
      const told = page.getElementById("told") ?? page.querySelector(".faults");
      if (told) document.getElementById("told").replaceChildren(...told.cloneNode(true).childNodes);
      saved.textContent = form.dataset.unsaved;
    }
  } catch {
    saved.textContent = form.dataset.unanswered;
  }
  saving = false;
  if (again) { again = false; save(); }
}

async function preview() {
  const state = document.getElementById("preview-state");
  const answer = await fetch(`${form.dataset.plan}/preview`, { method: "POST", body: new URLSearchParams({ token }) });
  if (!answer.ok) return;
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const parts = page.querySelector("template");
  if (parts) {
    for (const part of parts.content.querySelectorAll("[data-part]")) {
      document.getElementById(`preview-${part.dataset.part}`)?.replaceChildren(...part.childNodes);
    }
    parts.remove();
  }
  state.replaceChildren(...page.body.childNodes);
  if (state.querySelector('[data-job="on"]')) setTimeout(preview, LOOK_MS);
}

async function stale() {
  if (document.hidden || saving || timer) return;
  const answer = await fetch(`${form.dataset.plan}/seen`);
  if (!answer.ok) return;
  if ((await answer.text()) === document.getElementById("seen").value || saving || timer) return;
  const told = document.createElement("p");
  told.className = "faults";
  told.append(`${form.dataset.elsewhere} `);
  const link = document.createElement("a");
  link.href = form.dataset.plan;
  link.textContent = form.dataset.anew;
  told.append(link);
  document.getElementById("told").replaceChildren(told);
}

if (form) {
  const later = () => {
    clearTimeout(timer);
    timer = setTimeout(() => { timer = 0; save(); }, SAVE_MS);
  };
  form.addEventListener("input", (event) => { if (event.target.name !== "new.ask") later(); });
  setInterval(stale, STALE_MS);
  document.getElementById("work-out").querySelector("button").hidden = true;
  preview();
}
