// Files may be dropped on a form instead of being chosen.
for (const form of document.querySelectorAll("[data-drop]")) {
  const input = form.querySelector('input[type="file"]');
  form.addEventListener("dragover", (event) => { event.preventDefault(); form.classList.add("over"); });
  form.addEventListener("dragleave", () => form.classList.remove("over"));
  form.addEventListener("drop", (event) => {
    event.preventDefault();
    form.classList.remove("over");
    if (event.dataTransfer.files.length) input.files = event.dataTransfer.files;
  });
}
