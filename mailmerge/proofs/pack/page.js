"use strict";
// Works from a file, without a network. What is answered is kept in the browser, where it keeps it.
(() => {
  const pack = JSON.parse(document.getElementById("pack").textContent);
  if (!pack.cards.some((card) => card.open)) return;
  const byId = (id) => document.getElementById(id);
  const key = `answers to ${pack.id}`;
  const cards = pack.cards.map((data, at) => {
    const element = byId(`card-${at + 1}`);
    return { data, element, form: element.querySelector("form") };
  }).filter((card) => card.form);

  // Where answers are kept: nowhere, if the browser refuses.
  let store = null;
  try {
    window.localStorage.setItem(`${key}?`, "1");
    window.localStorage.removeItem(`${key}?`);
    store = window.localStorage;
  } catch { store = null; }

  const fields = (card) => [...card.form.querySelectorAll("[data-field]")];
  const words = (card) => card.form.querySelector("textarea");
  const tidy = (text) => text.normalize("NFC").replace(/\s+/g, " ").trim();

  // What a card says now: null while it is open.
  function answerOf(card) {
    const ticked = card.form.querySelector("input[type=radio]:checked");
    if (!ticked) return null;
    if (ticked.value === "yes") return { answer: "yes" };
    const texts = {};
    for (const input of fields(card)) {
      const text = tidy(input.value);
      if (text && text !== tidy(card.data.texts[input.dataset.field])) texts[input.dataset.field] = text;
    }
    const said = tidy(words(card).value);
    return said || Object.keys(texts).length ? { answer: "change", words: said, texts } : null;
  }

  function answers() {
    const found = [];
    for (const card of cards) {
      const answer = answerOf(card);
      if (answer) {
        for (const [item, seal] of card.data.seals) found.push({ item, seal, ...answer });
      }
    }
    return found.sort((a, b) => a.item - b.item);
  }

  // The check code: FNV-1a of 32 bits over what programs for messages leave alone.
  const plain = { "‘": "'", "’": "'", "“": '"', "”": '"', "„": '"', "–": "-", "—": "-", "…": "..." };
  const squashed = (text) => text.normalize("NFC").replace(/[‘’“”„–—…]/g, (c) => plain[c])
    .replace(/[\s\p{Cf}\p{Cc}]/gu, "");

  function checkOf(found) {
    const rows = [pack.id];
    for (const each of found) {
      const texts = Object.keys(each.texts || {}).sort()
        .map((field) => `${field}=${squashed(each.texts[field])}`);
      rows.push([each.item, each.answer, squashed(each.words || ""), ...texts].join("|"));
    }
    let code = 0x811c9dc5;
    for (const byte of new TextEncoder().encode(rows.join("\n"))) {
      code = Math.imul(code ^ byte, 0x01000193) >>> 0;
    }
    return code.toString(16).padStart(8, "0");
  }

  function runs(numbers) {
    const found = [];
    for (const number of numbers) {
      const last = found[found.length - 1];
      if (last && last[1] === number - 1) last[1] = number; else found.push([number, number]);
    }
    return found.map(([a, b]) => (a === b ? `${a}` : `${a}-${b}`)).join(", ");
  }

  const time = () => new Date().toISOString().replace(/\.\d+Z$/, "Z");
  const total = cards.reduce((sum, card) => sum + card.data.seals.length, 0);

  function asText() {
    const found = answers();
    const right = found.filter((each) => each.answer === "yes").map((each) => each.item);
    const rows = [`Answers to proof pack ${pack.id} (${pack.title})`];
    if (byId("by").value.trim()) rows.push(`From: ${tidy(byId("by").value)}`);
    rows.push(`Written: ${time()}`);
    if (right.length) rows.push(`Right: ${runs(right)}`);
    for (const each of found) {
      if (each.answer !== "change") continue;
      if (each.words) rows.push(`Change ${each.item}: ${each.words}`);
      for (const field of Object.keys(each.texts).sort()) {
        rows.push(`Change ${each.item}, ${field}: ${each.texts[field]}`);
      }
    }
    rows.push(`End of answers. ${found.length} of ${total} cups. Check ${checkOf(found)}`);
    return rows.join("\n");
  }

  function asFile() {
    return JSON.stringify({
      kind: "answers to a proof pack", version: 1, order: pack.order, pack: pack.id,
      by: tidy(byId("by").value), at: time(), answers: answers(),
    }, null, 1) + "\n";
  }

  // Keeping and bringing back.
  function keep() {
    if (!store) return;
    const kept = { by: byId("by").value, cards: {} };
    for (const card of cards) {
      const ticked = card.form.querySelector("input[type=radio]:checked");
      const texts = Object.fromEntries(fields(card).map((input) => [input.dataset.field, input.value]));
      if (ticked) kept.cards[card.data.seals[0][0]] = { tick: ticked.value, words: words(card).value, texts };
    }
    try { store.setItem(key, JSON.stringify(kept)); } catch { store = null; tellKept(); }
  }

  function bringBack() {
    let kept = null;
    try { kept = JSON.parse(store.getItem(key)); } catch { return; }
    if (!kept || typeof kept !== "object") return;
    byId("by").value = String(kept.by || "");
    for (const card of cards) {
      const was = (kept.cards || {})[card.data.seals[0][0]];
      if (!was) continue;
      const radio = card.form.querySelector(`input[value="${was.tick === "yes" ? "yes" : "change"}"]`);
      radio.checked = true;
      words(card).value = String(was.words || "");
      for (const input of fields(card)) {
        const text = (was.texts || {})[input.dataset.field];
        if (typeof text === "string") input.value = text;
      }
    }
  }

  function tellKept() {
    const note = byId("kept");
    note.hidden = false;
    note.className = store ? "hint" : "warning";
    note.textContent = store
      ? "Your answers are kept in this browser. You can close this page and come back later."
      : "This viewer does not keep your answers when you close the page. Please finish in one go, or send what you have before you close it.";
  }

  function show() {
    let open = 0;
    for (const card of cards) {
      const answer = answerOf(card);
      const ticked = card.form.querySelector("input[type=radio]:checked");
      const wants = Boolean(ticked) && ticked.value === "change";
      card.form.querySelector(".change").hidden = !wants;
      card.form.querySelector("[data-empty]").hidden = Boolean(answer);
      card.element.classList.toggle("answered", Boolean(answer) && answer.answer === "yes");
      card.element.classList.toggle("wants", Boolean(answer) && answer.answer === "change");
      if (!answer) open += 1;
    }
    const all = cards.length;
    const told = open === 0 ? "All answered" : `${open} of ${all} still open`;
    if (byId("count").textContent !== told) byId("count").textContent = told;
    byId("next").hidden = open === 0;
    byId("summary").textContent = open === 0
      ? "You have answered for every cup. Thank you!"
      : open === 1
        ? `1 of ${all} is still open. It will not be engraved until you say yes to it.`
        : `${open} of ${all} are still open. They will not be engraved until you say yes to them.`;
    byId("text").value = asText();
  }

  for (const element of [...document.querySelectorAll("form.answer"), byId("finish")]) {
    element.addEventListener("input", () => { show(); keep(); });
    element.addEventListener("submit", (event) => event.preventDefault());
  }

  const goTo = (element, focus) => {
    element.scrollIntoView({ block: "start" });
    focus.focus({ preventScroll: true });
  };
  byId("next").addEventListener("click", (event) => {
    event.preventDefault();
    const here = document.activeElement ? document.activeElement.closest(".card") : null;
    const from = cards.findIndex((card) => card.element === here) + 1;
    const open = [...cards.slice(from), ...cards.slice(0, from)].find((card) => !answerOf(card));
    if (open) goTo(open.element, open.form.querySelector("input[type=radio]:checked, input[type=radio]"));
  });
  byId("end").addEventListener("click", (event) => {
    event.preventDefault();
    goTo(byId("finish"), byId("finish-title"));
  });

  const say = (text) => { byId("said").textContent = text; };
  byId("save").addEventListener("click", () => {
    const link = document.createElement("a");
    const address = URL.createObjectURL(new Blob([asFile()], { type: "application/json" }));
    link.href = address;
    link.download = `answers-${pack.id}.json`;
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(address), 60000);
    say(`Saved as answers-${pack.id}.json. Look for it where your browser puts downloads. If it is not there, send the text instead.`);
  });
  byId("copy").addEventListener("click", async () => {
    const area = byId("text");
    area.value = asText();
    try {
      await navigator.clipboard.writeText(area.value);
      say("Copied. Paste it into a message.");
    } catch {
      area.focus();
      area.select();
      say(document.execCommand("copy")
        ? "Copied. Paste it into a message."
        : "Your browser did not copy the text. It is selected below: please copy it yourself.");
    }
  });

  window.addEventListener("beforeunload", (event) => {
    if (!store && answers().length) event.preventDefault();
  });

  if (store) bringBack();
  for (const element of [...document.querySelectorAll("form.answer"), byId("finish"), document.querySelector(".bar")]) {
    element.hidden = false;
  }
  tellKept();
  show();
})();
