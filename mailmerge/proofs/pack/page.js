"use strict";
// Works from a file, without a network. What is answered is kept in the browser, where it keeps it.
(() => {
  const pristine = document.documentElement.outerHTML;
  const byId = (id) => document.getElementById(id);
  const all = (selector, inside = document) => [...inside.querySelectorAll(selector)];
  const pack = JSON.parse(byId("pack").textContent);
  const before = JSON.parse(byId("before").textContent);
  const say = pack.words;
  const fill = (text, values) => text.replace(/%\((\w+)\)s/g, (_, key) => values[key]);
  const rows = all(".row");
  const cards = pack.cards.map((data, at) => {
    const element = byId(`card-${at + 1}`);
    const find = (selector) => element.querySelector(selector);
    return {
      ...data, at, element, row: rows[at], key: String(data.seals[0][0]), title: find("h2"),
      panel: find(".change"), yes: find(".yes"), no: find(".no"), own: find("textarea"),
      fields: all("[data-field]", element),
    };
  });
  const asked = cards.filter((card) => card.open);
  const cupsIn = (some) => some.reduce((sum, card) => sum + card.seals.length, 0); // a card may be of several
  const total = asked.length;

  // What is kept: in the browser, else for the sitting.
  const key = ["answers to", pack.id, ...before.map((each) => each.page)].join(" ");
  const letters = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ";
  const newPage = () => {
    const bytes = crypto.getRandomValues(new Uint8Array(8));
    return [...bytes].map((byte, at) => (at === 4 ? "-" : "") + letters[byte % 32]).join("");
  };
  let state = { page: newPage(), saving: 0, by: "", who: null, answers: {} };
  let store = null;
  let unsent = false;
  try {
    window.localStorage.setItem(`${key}?`, "1");
    window.localStorage.removeItem(`${key}?`);
    store = window.localStorage;
  } catch { store = null; }

  function bringBack() {
    let kept = null;
    try { kept = JSON.parse(store.getItem(key)); } catch { return; }
    if (kept && typeof kept === "object" && kept.page && kept.answers) state = { ...state, ...kept };
  }

  function keep() {
    if (!store) return;
    try { store.setItem(key, JSON.stringify(state)); } catch { store = null; tellKept(); }
  }

  const tidy = (text) => text.normalize("NFC").replace(/\p{Cs}/gu, "").replace(/\s+/g, " ").trim();
  const name = () => tidy(state.who || state.by);

  // What a card says now: null while it is open.
  function answerOf(card) {
    const given = state.answers[card.key];
    if (!card.open || !given) return null;
    if (given.tick === "yes") return { answer: "yes" };
    const texts = {};
    for (const [field, was] of Object.entries(card.texts)) {
      const text = tidy(String((given.texts || {})[field] ?? was));
      if (text && text !== tidy(was)) texts[field] = text;
    }
    const words = tidy(String(given.words || ""));
    return words || Object.keys(texts).length ? { answer: "change", words, texts } : null;
  }

  const answers = () => asked.flatMap((card) => {
    const answer = answerOf(card);
    return answer ? card.seals.map(([item, seal]) => ({ item, seal, ...answer })) : [];
  }).sort((a, b) => a.item - b.item);

  const wanted = (answer) => [answer.words, ...Object.values(answer.texts || {})].filter(Boolean).join(" / ");

  // The check codes: FNV-1a of 32 bits over what is said. A file is covered exactly; a text by what
  // programs for messages leave alone, and again with its signs and blanks.
  const plain = {
    "‘": "'", "’": "'", "‚": "'", "‹": "'", "›": "'", "“": '"', "”": '"', "„": '"', "«": '"',
    "»": '"', "–": "-", "—": "-", "…": "...",
  };
  const exactly = (text) => text;
  const spaced = (text) => text.normalize("NFC").replace(/[\s\p{Cc}]+/gu, " ").trim();
  const squashed = (text) => text.normalize("NFC").replace(/[‘’‚‹›“”„«»–—…]/g, (c) => plain[c])
    .replace(/[\s\p{Cf}\p{Cc}]/gu, "");

  function checkOf(sheet, read) {
    const said = sheet.answers.map(({ item, answer, words = "", texts = {} }) => [
      item, answer, read(words), Object.keys(texts).sort().map((field) => [field, read(texts[field])]),
    ]);
    const covered = JSON.stringify([sheet.pack, sheet.page, sheet.saving, read(sheet.by), read(sheet.at), said]);
    let code = 0x811c9dc5;
    for (const byte of new TextEncoder().encode(covered)) code = Math.imul(code ^ byte, 0x01000193) >>> 0;
    return code.toString(16).padStart(8, "0");
  }

  const two = (number) => String(Math.floor(Math.abs(number))).padStart(2, "0");
  function now() {
    const at = new Date(), off = -at.getTimezoneOffset();
    const local = new Date(at.getTime() + off * 60000).toISOString().slice(0, 19);
    return `${local}${off < 0 ? "-" : "+"}${two(off / 60)}:${two(off % 60)}`;
  }

  // What leaves the page: each time it is another saving, so that the latest one can be told.
  function leaving() {
    if (store) bringBack();
    state.saving += 1;
    unsent = false;
    keep();
    const sheet = {
      kind: "answers to a proof pack", version: 2, order: pack.order, pack: pack.id,
      page: state.page, saving: state.saving, by: name(), at: now(), answers: answers(),
    };
    return { ...sheet, check: checkOf(sheet, exactly) };
  }

  function runs(numbers) {
    const found = [];
    for (const number of numbers) {
      const last = found[found.length - 1];
      if (last && last[1] === number - 1) last[1] = number; else found.push([number, number]);
    }
    return found.map(([a, b]) => (a === b ? `${a}` : `${a}-${b}`)).join(", ");
  }

  // Words that stay English whatever the page speaks: the program reads them.
  function asText(sheet) {
    const lines = [
      `Answers to proof pack ${sheet.pack}`, `Page ${sheet.page}, saving ${sheet.saving}`,
      `From: ${sheet.by}`, `Written: ${sheet.at}`,
    ];
    const right = sheet.answers.filter((each) => each.answer === "yes").map((each) => each.item);
    if (right.length) lines.push(`Right: ${runs(right)}`);
    for (const each of sheet.answers.filter((one) => one.answer === "change")) {
      if (each.words) lines.push(`Change ${each.item}: ${each.words}`);
      for (const field of Object.keys(each.texts).sort()) lines.push(`Change ${each.item}, ${field}: ${each.texts[field]}`);
    }
    return [...lines, `End of answers. Check ${checkOf(sheet, squashed)} ${checkOf(sheet, spaced)}`].join("\n");
  }

  // Where one is: a card, or the overview. The address says it, so that "back" goes back.
  const END = "all";
  let place = null;
  let shownAt = 0;
  const placeIn = (hash) => {
    const at = Number(hash.slice(1)) - 1;
    return hash === `#${END}` ? END : cards[at] ? at : null;
  };
  const openFrom = (at) => [...cards.slice(at), ...cards.slice(0, at)].find((card) => card.open && !answerOf(card));

  function go(to) {
    const hash = to === END ? `#${END}` : `#${to + 1}`;
    try { if (window.location.hash !== hash) window.history.pushState(null, "", hash); } catch { /* not everywhere */ }
    show(to);
  }
  function onward(at) {
    const open = openFrom(at + 1);
    go(open ? open.at : END);
  }

  function show(to) {
    place = to;
    shownAt = performance.now();
    document.body.classList.toggle("one", to !== END);
    for (const card of cards) card.element.classList.toggle("now", card.at === to);
    byId("overview").hidden = to !== END;
    update();
    window.scrollTo(0, 0);
    (to === END ? byId("overview-title") : cards[to].title).focus({ preventScroll: true });
  }

  // What everything looks like, from what is known.
  function update() {
    const unanswered = asked.filter((card) => !answerOf(card));
    const count = cupsIn(unanswered);
    for (const card of cards) {
      const answer = answerOf(card);
      const given = state.answers[card.key];
      const wants = Boolean(card.open && given && given.tick === "change");
      card.row.classList.toggle("yes", Boolean(answer) && answer.answer === "yes");
      card.row.classList.toggle("wants", Boolean(answer) && answer.answer === "change");
      if (!card.open) continue;
      card.row.querySelector(".state").textContent = !answer ? say.open : answer.answer === "yes" ? say.right : fill(say.change, { wanted: wanted(answer) });
      card.yes.setAttribute("aria-pressed", String(Boolean(given) && given.tick === "yes"));
      card.no.setAttribute("aria-pressed", String(wants));
      card.no.setAttribute("aria-expanded", String(wants));
      card.panel.hidden = !wants;
      card.element.querySelector(".choices").hidden = wants;
      card.element.querySelector("[data-empty]").hidden = Boolean(answer);
    }
    const told = total ? say.openOf[count] : "";
    const where = place === END ? told : [fill(say.where, { at: cupsIn(cards.slice(0, place)) + 1, all: cupsIn(cards) }), told].filter(Boolean).join(" · ");
    if (byId("where").textContent !== where) byId("where").textContent = where;
    byId("next").hidden = count === 0 || (place !== END && unanswered.length === 1 && unanswered[0].at === place);
    byId("back").disabled = place === 0;
    byId("all").hidden = place === END;
    if (total) byId("end").hidden = place !== END;
    if (total) byId("partly").hidden = count === 0;
    byId("summary").textContent = !total ? "" : count === 0 && state.passed ? say.thanks : say.summary[count];
    if (total && byId("folded").open && name()) byId("text").value = asText(leaving());
  }

  function fillIn() {
    for (const card of asked) {
      const given = state.answers[card.key] || {};
      card.own.value = String(given.words || "");
      for (const input of card.fields) input.value = String((given.texts || {})[input.dataset.field] ?? card.texts[input.dataset.field]);
    }
    if (!total) return;
    byId("by").value = state.by;
    for (const radio of all("[name=who]")) radio.checked = radio.value === state.who;
    byId("named").hidden = all("[name=who]").length > 0 && state.who !== "";
  }

  function changed() {
    unsent = true;
    state.passed = false;
    keep();
    update();
  }

  // Taps that come before anybody can have read the card are those for the one before.
  const TOO_SOON = 250;
  for (const card of asked) {
    const typed = () => {
      state.answers[card.key] = {
        tick: "change", words: card.own.value,
        texts: Object.fromEntries(card.fields.map((input) => [input.dataset.field, input.value])),
      };
      changed();
    };
    card.yes.addEventListener("click", () => {
      if (performance.now() - shownAt < TOO_SOON) return;
      state.answers[card.key] = { ...state.answers[card.key], tick: "yes" };
      changed();
      onward(card.at);
    });
    card.no.addEventListener("click", () => {
      if (performance.now() - shownAt < TOO_SOON) return;
      typed();
      const input = card.fields[0] || card.own;
      input.focus();
      input.setSelectionRange(input.value.length, input.value.length);
    });
    card.element.querySelector(".keep").addEventListener("click", () => {
      if (answerOf(card)) onward(card.at); else card.own.focus();
    });
    card.element.querySelector(".drop").addEventListener("click", () => {
      delete state.answers[card.key];
      changed();
      fillIn();
      card.no.focus();
    });
    for (const input of [...card.fields, card.own]) input.addEventListener("input", typed);
  }
  for (const look of all(".look")) {
    const pictures = look.parentElement;
    const turn = () => look.setAttribute("aria-pressed", String(pictures.classList.toggle("whole")));
    look.addEventListener("click", turn);
    for (const image of all("img", pictures)) image.addEventListener("click", turn);
  }
  rows.forEach((row, at) => row.addEventListener("click", () => go(at)));
  byId("back").addEventListener("click", () => go(place === END ? cards.length - 1 : place - 1));
  byId("next").addEventListener("click", () => onward(place === END ? -1 : place));
  byId("all").addEventListener("click", () => go(END));
  window.addEventListener("popstate", () => { const to = placeIn(window.location.hash); if (to !== null && to !== place) show(to); });

  // The end: everything goes out under a name.
  const tell = (text) => { byId("said").textContent = text; };
  function named() {
    if (name()) return true;
    const people = all("[name=who]");
    tell(people.length ? say.whoFirst : say.nameFirst);
    (people.length && state.who === null ? people[0] : byId("by")).focus();
    return false;
  }
  const ready = () => {
    if (!named()) return false;
    if (answers().length) return true;
    tell(say.nothingYet);
    return false;
  };
  function save(file) {
    const link = document.createElement("a");
    const address = URL.createObjectURL(file);
    link.href = address;
    link.download = file.name;
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(address), 60000);
  }
  // Devices pass on text files that would not take a .json.
  const fileOf = (sheet, ending, type) => new File(
    [`${JSON.stringify(sheet, null, 1)}\n`], `answers-${sheet.pack}-${sheet.saving}.${ending}`, { type },
  );
  function saveAnswers(sheet) {
    const file = fileOf(sheet, "json", "application/json");
    save(file);
    tell(fill(say.saved, { file: file.name }));
  }
  const canShare = (file) => { try { return Boolean(navigator.canShare && navigator.canShare({ files: [file] })); } catch { return false; } };

  function tellKept() {
    if (total) byId("kept").textContent = store ? say.kept : say.notKept;
  }

  if (total) {
    byId("end").addEventListener("click", () => {
      byId("send-title").scrollIntoView();
      byId("send-title").focus({ preventScroll: true });
    });
    byId("share").hidden = !canShare(new File(["{}"], "answers.txt", { type: "text/plain" }));
    byId("save").classList.toggle("plainly", !byId("share").hidden);
    for (const radio of all("[name=who]")) {
      radio.addEventListener("change", () => { state.who = radio.value; fillIn(); changed(); });
    }
    byId("by").addEventListener("input", () => { state.by = byId("by").value; changed(); });
    byId("share").addEventListener("click", async () => {
      if (!ready()) return;
      const sheet = leaving();
      try {
        await navigator.share({ files: [fileOf(sheet, "txt", "text/plain")], title: pack.title });
        state.passed = true; // it is in an app that sends
        keep();
        update();
        tell(say.shared);
      } catch (error) {
        if (error.name !== "AbortError") saveAnswers(sheet);
      }
    });
    byId("save").addEventListener("click", () => { if (ready()) saveAnswers(leaving()); });
    byId("copy").addEventListener("click", async () => {
      if (!ready()) return;
      const text = asText(leaving());
      try {
        await navigator.clipboard.writeText(text);
        tell(say.copied);
      } catch {
        byId("folded").open = true;
        byId("text").value = text;
        byId("text").select();
        tell(say.notCopied);
      }
    });
    byId("mail").addEventListener("click", () => {
      if (!ready()) return;
      const body = asText(leaving()).replace(/\n/g, "\r\n");
      const link = document.createElement("a");
      link.href = `mailto:${pack.mail}?subject=${encodeURIComponent(`${pack.title}: ${pack.id}`)}&body=${encodeURIComponent(body)}`;
      link.click();
      tell(say.mailed);
    });
    byId("folded").addEventListener("toggle", () => {
      if (byId("folded").open && !byId("text").value) { if (ready()) update(); else byId("folded").open = false; }
      if (!byId("folded").open) byId("text").value = "";
    });
    byId("pass").addEventListener("click", async () => {
      if (!named()) return;
      const mine = { by: name(), page: state.page, answers: answers() };
      const told = JSON.stringify([...before, mine]).replace(/</g, "\\u003c");
      const start = '<script type="application/json" id="before">';
      const at = pristine.indexOf(start) + start.length;
      const copy = `<!doctype html>\n${pristine.slice(0, at)}${told}${pristine.slice(pristine.indexOf("<\/script>", at))}`;
      const file = new File([copy], `proofs-${pack.id}-${before.length + 2}.html`, { type: "text/html" });
      tell(fill(say.passed, { file: file.name }));
      try {
        if (!canShare(file)) throw new Error("not here");
        await navigator.share({ files: [file], title: pack.title });
      } catch (error) { if (error.name !== "AbortError") save(file); }
    });
    window.addEventListener("storage", (event) => { if (event.key === key) { bringBack(); fillIn(); update(); } });
    window.addEventListener("beforeunload", (event) => { if (!store && unsent && answers().length) event.preventDefault(); });
  }

  // What others have said on the page before it was passed on.
  for (const card of cards) {
    const note = card.element.querySelector(".before");
    for (const each of before) {
      const answer = each.answers.find((one) => String(one.item) === card.key);
      if (!answer) continue;
      const line = document.createElement("p");
      line.dir = "auto";
      line.textContent = fill(answer.answer === "yes" ? say.saidRight : say.saidWants, { who: each.by, wanted: wanted(answer) });
      note.append(line);
      note.hidden = false;
    }
  }

  if (store) { bringBack(); keep(); }
  document.body.classList.add("walk");
  for (const element of [...all(".answer"), ...all(".look"), document.querySelector(".bar"), byId("where")]) element.hidden = false;
  tellKept();
  fillIn();
  const first = openFrom(0);
  show(placeIn(window.location.hash) ?? (first ? first.at : END));
})();
