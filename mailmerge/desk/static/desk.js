// What every page of the desk does: it works without any of this, but less smoothly.

/** Whether something was typed here that was not sent yet: then the page is not taken away. */
let isTyped = false;
document.addEventListener("input", (event) => { isTyped ||= event.target.type !== "search"; });

/** How many forms are on their way: until they have come the page is not taken away either. */
let sending = 0;

/** Send a form without leaving the page, so that what was typed stays if it is refused; whether the page goes on. */
async function send(form, button) {
  const body = new FormData(form, button ?? undefined);
  const plain = form.enctype !== "multipart/form-data";
  const answer = await fetch(button?.getAttribute("formaction") || form.getAttribute("action"), {
    method: "POST", body: plain ? new URLSearchParams(body) : body, redirect: "follow",
  });
  if (answer.redirected && answer.ok) {
    goOn(answer.url);
    return true;
  }
  const said = await answer.text();
  const page = new DOMParser().parseFromString(said, "text/html");
  const told = page.querySelector("#refusal");
  if (told && answer.status === 422) refuse(form, told.textContent.trim());
  else if (!page.querySelector("main")) refuse(form, said); // the guard's line, at the door
  else show(page, answer.url);
  return false;
}

/** Whether a form brings more than is taken: it is refused before it is sent. */
function isTooLarge(form) {
  const size = (value) => value.size ?? new Blob([value]).size;
  return form.dataset.most && [...new FormData(form).values()].some((value) => size(value) > Number(form.dataset.most));
}

const PRESSED = "desk-pressed"; // so that the page that comes after a press shows what came of it
const SAID = ".mended[role=status], #said, #work > :not(section.card)"; // that: beside what it is about, or above all

/** Let the page that comes next show what is said of the press. */
function willShow() {
  try { sessionStorage.setItem(PRESSED, "yes"); } catch { /* it stands there all the same */ }
}

/** Bring what is said of a press to whoever looks or listens, unless it is seen where they are. */
function showSaid() {
  try {
    if (!sessionStorage.getItem(PRESSED)) return;
    sessionStorage.removeItem(PRESSED);
  } catch { return; }
  const all = [...document.querySelectorAll(SAID)];
  const top = document.querySelector(".places")?.getBoundingClientRect().bottom ?? 0; // it stays above what is moved
  const isSeen = (each) => { const at = each.getBoundingClientRect(); return at.top >= top && at.bottom <= innerHeight; };
  const place = all.find(isSeen) ?? document.querySelector("#said") ?? all[0];
  if (!place) return;
  place.tabIndex = -1;
  place.focus({ preventScroll: true });
  if (!isSeen(place)) place.scrollIntoView({ block: "center" });
}

/** Go on at an address; the same page stays where somebody looks at it, if what is said is seen there. */
function goOn(address) {
  willShow();
  const to = new URL(address), plain = (url) => {
    const asked = new URLSearchParams(url.search);
    asked.delete("said");
    return `${url.pathname}?${asked}`;
  };
  if (plain(to) !== plain(location)) return location.assign(address);
  history.replaceState(history.state, "", address);
  location.reload();
}

/** Say beside a form why it was refused. */
export function refuse(form, told) {
  let place = form.querySelector(":scope > .say.stop");
  if (!place) {
    place = document.createElement("div");
    place.className = "say stop";
    place.setAttribute("role", "alert");
    place.tabIndex = -1;
    form.prepend(place);
  }
  place.textContent = told;
  place.focus();
  isTyped = true;
}

/** Put a page that came as an answer into the place of this one. */
function show(page, address) {
  document.title = page.title;
  document.querySelector("#main").replaceWith(document.adoptNode(page.querySelector("#main, main")));
  document.querySelector("main").focus();
  begin(document.querySelector("main"));
  scrollTo(0, 0);
}

/** Let a place take files that are dropped on it, or anywhere on the page. */
function drops(place) {
  const input = place.querySelector("input[type=file]");
  const form = place.closest("form");
  input.addEventListener("change", () => input.files.length && form.requestSubmit());
  const target = place.hasAttribute("data-anywhere") ? document.documentElement : place;
  const over = (event) => { event.preventDefault(); place.classList.add("over"); };
  target.addEventListener("dragover", over);
  target.addEventListener("dragleave", () => place.classList.remove("over"));
  target.addEventListener("drop", (event) => {
    event.preventDefault();
    place.classList.remove("over");
    if (!event.dataTransfer.files.length) return;
    input.files = event.dataTransfer.files;
    form.requestSubmit();
  });
}

/** Follow the long work of this page's order while somebody looks: a browser has few lines to a host. */
function follow(place) {
  if (document.hidden) {
    document.addEventListener("visibilitychange", () => follow(place), { once: true });
    return;
  }
  const events = new EventSource(`/orders/${place.dataset.key}/progress/events?saw=${encodeURIComponent(place.dataset.saw)}`);
  document.addEventListener("visibilitychange", () => { events.close(); follow(place); }, { once: true });
  events.addEventListener("work", (event) => {
    place.innerHTML = JSON.parse(event.data).shown;
    begin(place);
  });
  events.addEventListener("end", () => {
    events.close();
    if (sending) return; // the answer to it shows the page anew, or says why not
    if (document.activeElement?.matches(SAID)) willShow(); // whoever is there stays there
    if (!isTyped) return location.reload();
    place.replaceChildren(document.querySelector("#anew").content.cloneNode(true));
    place.querySelector("button").addEventListener("click", () => location.reload());
  });
}

/** Fetch a page of this desk. */
async function fetched(address, signal) {
  const answer = await fetch(address, { signal });
  if (!answer.ok) throw new Error(answer.statusText);
  return new DOMParser().parseFromString(await answer.text(), "text/html");
}

/** Find as one types: the desk searches, for it alone has all that is searched. */
function searches(form) {
  let waiting, asked;
  form.addEventListener("input", () => {
    clearTimeout(waiting);
    waiting = setTimeout(async () => {
      asked?.abort();
      asked = new AbortController();
      const address = `${form.action}?${new URLSearchParams(new FormData(form))}`;
      try {
        const page = await fetched(address, asked.signal);
        const found = page.querySelector(form.dataset.search);
        document.querySelector(form.dataset.search).replaceWith(document.adoptNode(found));
        history.replaceState(null, "", address);
        begin(found);
      } catch (error) {
        if (error.name !== "AbortError") refuse(form, document.body.dataset.gone);
      }
    }, 150);
  });
}

let long = null; // the list that the page shows a stretch at a time
let cameBack = null; // kept while the stretches come that were there before

/** Bring the next stretch of something long as its end comes into view; its link stays for others. */
function brings(place) {
  const next = place.querySelector("a[rel=next]");
  if (!next) return;
  const list = long = document.querySelector(place.dataset.bring);
  const bring = async () => {
    const page = await fetched(next.href);
    if (!place.isConnected) return; // something else is looked for by now
    list.append(...page.querySelector(place.dataset.bring).children);
    const other = document.adoptNode(page.querySelector("[data-bring]"));
    other.querySelector("[rel=prev]")?.replaceWith(...place.querySelectorAll("[rel=prev]"));
    other.querySelector(".number").remove();
    place.replaceWith(other);
    if (!other.children.length) other.remove();
    brings(other);
  };
  const { many = 0, far = 0 } = history.state ?? {};
  if (list.children.length < many) { // somebody comes back to where they were
    cameBack = bring().then(() => (list.children.length < many ? cameBack : scrollTo(0, far)), () => {});
    return;
  }
  const seen = new IntersectionObserver((entries) => {
    if (!entries.some((entry) => entry.isIntersecting)) return;
    seen.disconnect();
    bring().catch(() => {}); // the link leads there as well
  }, { rootMargin: "1500px" });
  seen.observe(place);
}

/** Bring a part of the page to life. */
function begin(part) {
  for (const place of part.querySelectorAll(".drop")) drops(place);
  for (const place of part.querySelectorAll("[data-bring]")) brings(place);
  for (const form of part.querySelectorAll("[data-search]")) searches(form);
  for (const button of part.querySelectorAll("[data-print]")) button.addEventListener("click", () => print());
  for (const button of part.querySelectorAll("[data-copy]")) {
    button.hidden = !navigator.clipboard; // another device's page is not let near it
    button.addEventListener("click", async () => {
      await navigator.clipboard.writeText(document.getElementById(button.dataset.copy).textContent);
      button.textContent = button.dataset.copied;
    });
  }
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.method !== "post" || form.hasAttribute("data-plain")) return;
  event.preventDefault();
  const button = event.submitter;
  if (isTooLarge(form)) {
    refuse(form, form.dataset.tooLarge);
    if (form.querySelector("input[type=file]")) form.reset();
    return;
  }
  sending += 1;
  const sent = send(form, button), wasTyped = isTyped;
  isTyped = false;
  isAtWork(button, true); // only now: a disabled button is not sent
  sent
    .catch(() => { refuse(form, document.body.dataset.gone); isTyped = wasTyped; })
    .then((goesOn) => { sending -= 1; if (!goesOn) isAtWork(button, false); });
});

/** Show on a button whether what it does is under way. */
function isAtWork(button, is) {
  if (!button) return;
  button.disabled = is;
  button.ariaBusy = is ? "true" : null;
}

begin(document);
addEventListener("load", async () => {
  await cameBack;
  requestAnimationFrame(showSaid); // once the browser has gone back to where somebody was
});
addEventListener("pageshow", (event) => { // gone back to, as it was left
  if (event.persisted) for (const button of document.querySelectorAll("[aria-busy]")) isAtWork(button, false);
});
addEventListener("pagehide", () => {
  if (long?.isConnected) history.replaceState({ many: long.children.length, far: scrollY }, "");
});
const work = document.querySelector("#work");
if (work) follow(work);
