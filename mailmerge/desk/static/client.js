// Client: who the maker is stays filled in, and a cup is seen while its words are typed.

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
  });
}

/** Show a cup as it would be, a moment after the last letter was typed; the last one typed wins. */
function tries(form) {
  const place = form.querySelector(".tried");
  let wait, asked;
  const show = async () => {
    asked?.abort();
    asked = new AbortController();
    const typed = new URLSearchParams();
    for (const input of form.querySelectorAll("[name^='text.']")) typed.append(input.name, input.value);
    try {
      const answer = await fetch(`${form.dataset.tries}?${typed}`, { signal: asked.signal });
      const text = await answer.text();
      const page = new DOMParser().parseFromString(text, "text/html");
      const told = page.querySelector("#refusal");
      place.replaceChildren(...(told ? [told] : page.body.childNodes));
      place.classList.remove("late");
    } catch (error) {
      if (error.name !== "AbortError") place.replaceChildren(document.body.dataset.gone);
    }
  };
  form.addEventListener("input", (event) => {
    if (!event.target.name.startsWith("text.")) return;
    place.classList.add("late");
    clearTimeout(wait);
    wait = setTimeout(show, 200);
  });
}

for (const form of document.querySelectorAll("[data-tries]")) tries(form);
