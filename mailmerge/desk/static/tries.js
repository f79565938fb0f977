// A cup is seen while its words are typed.

/** Show a cup as it would be, a moment after the last letter was typed; the last one typed wins. */
function tries(form) {
  const place = form.querySelector(".tried");
  let wait, asked;
  const show = async () => {
    asked?.abort();
    asked = new AbortController();
    const typed = new URLSearchParams();
    for (const input of form.querySelectorAll("[data-field]")) typed.append(`text.${input.dataset.field}`, input.value);
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
    if (!("field" in event.target.dataset)) return;
    place.classList.add("late");
    clearTimeout(wait);
    wait = setTimeout(show, 200);
  });
}

for (const form of document.querySelectorAll("[data-tries]")) tries(form);
