// Cups: going from cup to cup by the arrow keys.

document.addEventListener("keydown", (event) => {
  if (event.altKey || event.ctrlKey || event.metaKey || event.target.closest("input, textarea, select, summary")) return;
  document.querySelector(`a[data-key="${CSS.escape(event.key)}"]`)?.click();
});

/** Fetch a page and return its part that is to stand here; null where it was refused. */
async function part(address, signal) {
  const answer = await fetch(address, { signal });
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  return { found: page.querySelector("#part"), told: page.querySelector("#refusal")?.textContent.trim() };
}

/** Say in a place why something cannot be shown. */
function tell(place, told) {
  const said = document.createElement("p");
  said.className = "found stop";
  said.textContent = told ?? document.body.dataset.gone;
  place.replaceChildren(said);
}

/** Show in a place that something is being drawn for it. */
function drawing(place, words) {
  const sign = document.createElement("span");
  sign.className = "being-drawn";
  sign.setAttribute("role", "status");
  sign.textContent = words;
  place.replaceChildren(sign);
}

/** Show the ways out of a stop, one by one as they are made; one that leads nowhere goes. */
async function ways(place) {
  drawing(place, place.dataset.drawing);
  const { found, told } = await part(place.dataset.part);
  if (!found) return tell(place, told);
  place.replaceChildren(...found.childNodes);
  for (const way of place.querySelectorAll("[data-from] p")) drawing(way, place.dataset.drawing);
  for (const way of place.querySelectorAll("[data-from]")) {
    const made = await part(way.dataset.from);
    if (!made.found || made.found.dataset.stopped === "true") { way.remove(); continue; }
    made.found.removeAttribute("id");
    way.querySelector("p").replaceWith(made.found);
  }
  place.querySelector("[data-none]").hidden = place.querySelector("[data-from]") !== null;
}

for (const place of document.querySelectorAll("[data-part]")) ways(place).catch(() => tell(place));

/** Let a picture follow what is typed or chosen. */
function live(form, place) {
  let waiting, asked;
  form.addEventListener("input", () => {
    clearTimeout(waiting);
    waiting = setTimeout(async () => {
      asked?.abort();
      asked = new AbortController();
      place.classList.add("waits");
      try {
        const { found, told } = await part(`${form.action}?${new URLSearchParams(new FormData(form))}`, asked.signal);
        if (!found) return tell(place, told);
        const picture = found.querySelector("img");
        await picture.decode().catch(() => {});
        place.replaceChildren(...found.childNodes);
      } catch (error) {
        if (error.name !== "AbortError") tell(place);
      } finally {
        place.classList.remove("waits");
      }
    }, 60);
  });
  form.addEventListener("submit", (event) => event.preventDefault());
}

/** While other words are typed, the lines of those that stand there are not to be set. */
document.querySelector("[data-words]")?.addEventListener("input", (event) => {
  const isOther = [...event.currentTarget.elements].some((field) => field.value !== field.defaultValue && field.name);
  for (const line of document.querySelectorAll("[data-line]")) line.hidden = isOther;
  document.querySelector("[data-words-first]").hidden = !isOther;
});

document.documentElement.classList.add("script");
for (const form of document.querySelectorAll("form[data-live]")) live(form, document.querySelector("#live"));
