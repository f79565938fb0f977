// A cup is seen while its words are typed.

/**
 * Show a cup as it would be, a moment after the last letter was typed; the last one typed wins.
 *
 * It is shown as it is as soon as somebody comes to its words: what shows it takes the longest the
 * first time, and has begun by the first letter.
 */
function tries(form) {
  const place = form.querySelector(".tried");
  let wait, asked, seen = false;
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
  form.addEventListener("focusin", (event) => {
    if (seen || !("field" in event.target.dataset)) return;
    seen = true;
    place.classList.add("late");
    show();
  });
  form.addEventListener("input", (event) => {
    if (!("field" in event.target.dataset)) return;
    place.classList.add("late");
    clearTimeout(wait);
    wait = setTimeout(show, 200);
  });
}

for (const form of document.querySelectorAll("[data-tries]")) tries(form);
