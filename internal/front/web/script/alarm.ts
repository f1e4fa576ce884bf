// Baths under way, on every page: the time counts down, and when it is up the
// page shows it, says it and, after one tap, sounds it. The server's clock
// decides; the page only counts on from what it was last told.

type Bath = { id: string; name: string; words: string; in: boolean; left: number; rings: boolean };

const often = 2_000; // ms between looks while something is under way
const seldom = 15_000;

let baths: Bath[] = [];
let told = 0; // performance.now() of the last word of the server
let sound: AudioContext | undefined;
let struck = 0;
let ringing = "";
let timer = 0;

export function alarm(): void {
  const strip = document.querySelector<HTMLElement>("[data-alarm]");
  if (!strip) return;
  baths = read(strip);
  told = performance.now();
  for (const what of ["pointerdown", "keydown"]) document.addEventListener(what, unlock, { passive: true });
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden) void look(strip);
  });
  window.setInterval(() => count(strip), 250);
  plan(strip);
  awake();
}

// read takes what stands in the page as it came.
function read(strip: HTMLElement): Bath[] {
  return Array.from(strip.querySelectorAll<HTMLElement>("[data-bath]"), (li) => ({
    id: li.dataset.bath ?? "",
    name: (li.querySelector("a")?.textContent ?? "").replace(/^Bath /, ""),
    words: li.querySelector("strong")?.textContent ?? "",
    in: li.dataset.in === "true",
    left: Number(li.dataset.left),
    rings: li.classList.contains("rings"),
  }));
}

function plan(strip: HTMLElement): void {
  window.clearTimeout(timer);
  timer = window.setTimeout(() => void look(strip), baths.length > 0 ? often : seldom);
}

// look asks the server; where it does not answer, the count goes on.
async function look(strip: HTMLElement): Promise<void> {
  try {
    const answer = await fetch("/alarm.json", { headers: { Accept: "application/json" } });
    if (answer.ok) {
      const m = (await answer.json()) as { baths: Bath[] };
      baths = m.baths;
      told = performance.now();
      lay(strip);
    }
  } catch {
    // the network is down: the count goes on
  }
  plan(strip);
}

// lay puts the list into the strip.
function lay(strip: HTMLElement): void {
  strip.hidden = baths.length === 0;
  const list = strip.querySelector("ul");
  if (!list) return;
  const now = Array.from(list.children, (x) => (x as HTMLElement).dataset.bath).join();
  if (now === baths.map((b) => b.id).join()) return;
  list.replaceChildren(
    ...baths.map((b) => {
      const li = document.createElement("li");
      li.dataset.bath = b.id;
      const a = document.createElement("a");
      a.href = "/baths/" + b.id;
      a.textContent = "Bath " + b.name;
      li.append(a, " ", document.createElement("strong"));
      return li;
    }),
  );
  count(strip);
}

// count shows what is left now, and rings.
function count(strip: HTMLElement): void {
  const passed = performance.now() - told;
  const over: Bath[] = [];
  for (const b of baths) {
    const left = b.left - passed;
    const up = b.rings || (b.in && left <= 0);
    if (up) over.push(b);
    const li = strip.querySelector<HTMLElement>(`[data-bath="${b.id}"]`);
    li?.classList.toggle("rings", up);
    put(li?.querySelector("strong"), b.in ? words(left) : b.words);
    if (location.pathname === "/baths/" + b.id && b.in) {
      const big = document.querySelector<HTMLElement>("[data-count]");
      put(big, words(left));
      big?.classList.toggle("over", up);
    }
  }
  say(strip, over);
  const refused = strip.querySelector<HTMLElement>("[data-refused]");
  if (refused) refused.hidden = over.length === 0 || sound?.state === "running";
  if (over.length > 0) strike();
}

function put(e: Element | null | undefined, text: string): void {
  if (e && e.textContent !== text) e.textContent = text;
}

// words is a time that is left; the same as the server writes it, but that
// the last minute is counted in seconds.
function words(ms: number): string {
  const minutes = ms / 60_000;
  if (minutes <= -1) return `${Math.floor(-minutes)} min over`;
  if (ms <= 0) return "time is up";
  if (minutes < 1) return `${Math.floor(ms / 1000)} s`;
  return `${Math.floor(minutes + 0.5)} min`;
}

// say tells a screen reader once, and the name of the tab.
function say(strip: HTMLElement, over: Bath[]): void {
  const names = over.map((b) => b.name).join(", ");
  if (names === ringing) return;
  document.title = document.title.replace(/^Time is up: /, "");
  if (names !== "") document.title = "Time is up: " + document.title;
  ringing = names;
  put(strip.querySelector("[data-said]"), names === "" ? "" : "Time is up in the bath: " + names);
}

// unlock makes the sound ready: browsers want a tap first.
function unlock(): void {
  if (baths.length === 0) return;
  sound ??= new AudioContext();
  if (sound.state !== "running") void sound.resume();
}

// strike sounds once every two seconds.
function strike(): void {
  if (!sound || sound.state !== "running" || performance.now() - struck < 2_000) return;
  struck = performance.now();
  const gain = sound.createGain();
  gain.connect(sound.destination);
  gain.gain.setValueAtTime(0.5, sound.currentTime);
  gain.gain.exponentialRampToValueAtTime(0.001, sound.currentTime + 1.2);
  for (const tone of [880, 1320]) {
    const o = sound.createOscillator();
    o.frequency.value = tone;
    o.connect(gain);
    o.start();
    o.stop(sound.currentTime + 1.2);
  }
}

// awake keeps the screen on while a bath's page is looked at, where the
// browser can.
function awake(): void {
  if (!document.querySelector("[data-awake]") || !("wakeLock" in navigator)) return;
  const hold = () => {
    if (!document.hidden) navigator.wakeLock.request("screen").catch(() => undefined); // refused on a low battery
  };
  document.addEventListener("visibilitychange", hold);
  hold();
}
