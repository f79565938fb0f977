// Blanks, measuring and layouts: what is shown follows what is typed.

/** Fetch a page and return its part that is to stand here. */
async function part(address, signal) {
  const answer = await fetch(address, { signal });
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  return page.querySelector("#part") ?? page.querySelector("#refusal");
}

/** Load the pictures of a part before it is shown, so that nothing flickers. */
async function loaded(found) {
  const seen = document.adoptNode(found);
  await Promise.all([...seen.querySelectorAll("img")].map((picture) => picture.decode().catch(() => {})));
  return seen;
}

/** Let a part of the page follow a form. */
function live(form, place) {
  let waiting, asked;
  const follow = async () => {
    asked?.abort();
    const now = asked = new AbortController();
    place.classList.add("waits");
    try {
      const found = await part(`${form.dataset.live}?${new URLSearchParams(new FormData(form))}`, now.signal);
      const seen = await loaded(found);
      if (now.signal.aborted) return;
      put(place, seen);
      place.classList.remove("waits");
    } catch (error) {
      if (error.name === "AbortError") return;
      place.classList.remove("waits");
      place.textContent = document.body.dataset.gone;
    }
  };
  form.addEventListener("input", () => { clearTimeout(waiting); waiting = setTimeout(follow, 50); });
}

/** Put a new part into its place; what was typed into the old one stays, and pictures where none could be made. */
function put(place, seen) {
  for (const old of place.querySelectorAll("[data-kept]")) {
    const now = seen.querySelector(`[name="${old.name}"]`);
    if (now) { now.value = old.value; now.checked = old.checked; }
  }
  const pictures = place.querySelector(".three");
  if (pictures && !seen.querySelector(".three") && seen.classList.contains("stop")) {
    place.querySelector(":scope > .found.stop")?.remove();
    place.prepend(seen);
    return;
  }
  place.replaceChildren(seen);
}

for (const form of document.querySelectorAll("form[data-live]")) live(form, document.querySelector("#live"));

for (const chips of document.querySelectorAll(".chips")) {
  chips.hidden = false;
  const input = document.getElementsByName(chips.dataset.into)[0];
  let end = true; // nobody has put the cursor anywhere yet
  input.addEventListener("focus", () => { end = false; });
  chips.addEventListener("click", (event) => {
    const chip = event.target.closest("[data-field]");
    if (!chip) return;
    if (end) input.setSelectionRange(input.value.length, input.value.length);
    input.setRangeText(chip.dataset.field, input.selectionStart, input.selectionEnd, "end");
    input.focus();
    input.dispatchEvent(new Event("input", { bubbles: true }));
  });
}

/** Show beside each field what was found, and in the drawing where the one that is filled in is measured. */
function measuring(form, place) {
  const show = () => {
    for (const note of place.querySelectorAll("[data-for]")) {
      const slot = document.getElementById(`note-${note.dataset.for}`);
      if (!slot || slot.textContent === note.textContent) continue;
      slot.textContent = note.textContent;
      slot.className = `small ${note.className}`;
    }
    const asked = form.contains(document.activeElement) ? document.activeElement.name : "";
    for (const mark of place.querySelectorAll("[data-mark]")) mark.classList.toggle("is-asked", mark.dataset.mark === asked);
  };
  new MutationObserver(show).observe(place, { childList: true });
  form.addEventListener("focusin", show);
  form.addEventListener("focusout", () => requestAnimationFrame(show));
  // What is asked depends on these.
  form.addEventListener("change", (event) => event.target.closest("[data-again], [data-again-on-change]") && form.requestSubmit());
  show();
}

if (document.querySelector(".measured")) measuring(document.querySelector("form[data-live]"), document.querySelector("#live"));
