// Cups: searching as one types, and going from cup to cup by the arrow keys.

/** Return a text as people type it who search. */
const plain = (text) => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase().trim();

const search = document.querySelector("[data-search]");
if (search) {
  const cups = [...document.querySelectorAll("#cups > li")];
  const texts = cups.map((cup) => plain(cup.querySelector(".about").textContent));
  const started = search.value;
  search.addEventListener("input", () => {
    // What the server has left out can only come back from there.
    if (started && !search.value.startsWith(started)) return search.form.requestSubmit();
    const wanted = plain(search.value);
    let shown = 0;
    cups.forEach((cup, at) => { shown += !(cup.hidden = !texts[at].includes(wanted)); });
    document.querySelector("#none").hidden = shown > 0;
  });
}

document.addEventListener("keydown", (event) => {
  if (event.altKey || event.ctrlKey || event.metaKey || event.target.closest("input, textarea, select, summary")) return;
  document.querySelector(`a[data-key="${CSS.escape(event.key)}"]`)?.click();
});
