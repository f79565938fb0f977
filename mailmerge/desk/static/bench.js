// What is live at the bench: the clock, a screen that stays awake, and what another hand has done.

const bench = document.querySelector(".bench");
const clock = bench.querySelector("[data-since]");

/** Show how long the clock runs; the server keeps when it was started. */
function tick() {
  const seconds = Math.max(0, Math.round(Date.now() / 1000 - Number(clock.dataset.since)));
  const parts = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  const shown = parts[0] ? parts : parts.slice(1);
  clock.textContent = shown.map((part, i) => String(part).padStart(i ? 2 : 1, "0")).join(":");
}

if (clock) {
  tick();
  setInterval(tick, 500);
}

/** Keep the screen awake while this page is looked at, where the browser allows it. */
async function stayAwake() {
  if (!navigator.wakeLock || document.hidden) return;
  try { await navigator.wakeLock.request("screen"); } catch { /* it is not allowed: the screen sleeps */ }
}

stayAwake();
document.addEventListener("visibilitychange", stayAwake);

/** Show the bench as it is now; where a refusal is read, its reader says when. */
function showAnew() {
  const told = bench.querySelector("form > .say.stop");
  if (!told) return location.reload();
  if (told.querySelector("button")) return;
  const again = document.querySelector("#anew").content.querySelector("button").cloneNode(true);
  again.type = "button";
  again.addEventListener("click", () => location.reload());
  told.append(" ", again);
}

/** Look now and then whether another page has marked a cup; what is being typed is not disturbed. */
setInterval(async () => {
  if (document.hidden || document.activeElement?.matches("input, textarea")) return;
  try {
    const answer = await fetch(bench.dataset.ask);
    if (answer.ok && (await answer.json()).state !== bench.dataset.state) showAnew();
  } catch { /* the desk is away for a moment; it is asked again */ }
}, 4000);
