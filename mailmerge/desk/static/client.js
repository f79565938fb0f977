// Client: who the maker is stays filled in.

const ME = "desk-me";

for (const input of document.querySelectorAll("[data-me]")) {
  try { input.value ||= localStorage.getItem(ME) ?? ""; } catch { /* it is typed again */ }
  input.addEventListener("change", () => {
    try { localStorage.setItem(ME, input.value); } catch { /* the same */ }
    for (const other of document.querySelectorAll("[data-me]")) other.value ||= input.value;
  });
}

for (const button of document.querySelectorAll("[data-all]")) {
  button.hidden = false;
  button.addEventListener("click", () => {
    const boxes = [...button.form.querySelectorAll("input[type=checkbox][name=item]")];
    const all = boxes.every((box) => box.checked);
    for (const box of boxes) box.checked = !all;
    button.form.dispatchEvent(new Event("change"));
  });
}

/** Say how many cups are chosen, before a yes for all of them is put on record. */
for (const place of document.querySelectorAll("[data-chosen]")) {
  const form = place.closest("form");
  place.hidden = false;
  form.addEventListener("change", () => {
    place.querySelector("b").textContent = form.querySelectorAll("[name=item]:checked").length;
  });
}
