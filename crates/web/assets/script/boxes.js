// Boxes for what is measured: a calliper that types its figures and Enter goes on to the next box, and a second measure of the same
// thing goes behind the first.

const BOX = "[data-boxes] input[type=text]";

document.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || event.defaultPrevented || event.isComposing) return;
  const box = event.target;
  if (!box.matches?.(BOX)) return;
  event.preventDefault();
  const form = box.form;
  const shown = [...form.querySelectorAll("input[type=text]")].filter((one) => one.checkVisibility?.() ?? true);
  const next = shown[shown.indexOf(box) + 1] ?? form.querySelector("button.primary");
  next.focus();
});

document.addEventListener("focusin", (event) => {
  const box = event.target;
  if (!box.matches?.(BOX) || !box.value.trim()) return;
  if (!box.value.endsWith(" ")) box.value += " ";
  box.setSelectionRange(box.value.length, box.value.length);
});
