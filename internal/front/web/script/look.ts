// A look at a clock on trial: the time of day runs on the page, by the shop's
// computer; it is held when something is typed or stepped, or by the button,
// so that what is saved is of the moment at which the clock was looked at.

import { ShopTime } from "./shoptime";

const tries = 3; // questions to the server; the quickest answer counts
const apartFrom = 2000; // ms between phone and computer that are worth a word

for (const form of document.querySelectorAll<HTMLFormElement>("form[data-look]")) void look(form);

async function look(form: HTMLFormElement): Promise<void> {
  const time = form.querySelector<HTMLElement>("[data-running]");
  const words = form.querySelector<HTMLElement>("[data-running-words]");
  const hold = form.querySelector<HTMLButtonElement>("[data-hold]");
  const seen = form.elements.namedItem("seen") as HTMLInputElement;
  if (!time || !words || !hold) return;
  let held: number | null = null; // performance.now() of the look
  steps(form, seen, () => (held ??= performance.now()));
  seen.addEventListener("input", () => (held ??= performance.now()));
  hold.addEventListener("click", () => {
    held = held === null ? performance.now() : null;
    seen.focus();
    show();
  });
  form.addEventListener("submit", () => {
    set(form, "age", held === null ? "" : String(Math.round(performance.now() - held)));
  });
  if (window.innerWidth < 600 && !document.querySelector(".flash,#error-summary")) form.scrollIntoView();
  const shop = new ShopTime();
  await shop.ask(tries);
  const zero = shop.by(0)?.ms;
  if (zero === undefined) return;
  set(form, "shown", "yes");
  hold.hidden = false;
  apart(form, zero);
  const show = () => {
    time.textContent = clock(zero + (held ?? performance.now()), shop.zone);
    words.textContent = held === null ? "The time of day." : "Held; this moment is saved.";
    hold.textContent = held === null ? "Hold the time" : "Let it run";
  };
  show();
  window.setInterval(show, 100);
}

// apart says where this device's own clock shows another time.
function apart(form: HTMLFormElement, zero: number): void {
  const off = Date.now() - (zero + performance.now());
  const say = form.querySelector<HTMLElement>("[data-apart]");
  if (!say || Math.abs(off) < apartFrom) return;
  const s = Math.abs(off) / 1000;
  const much = s < 120 ? `${Math.round(s)} s` : s < 7200 ? `${Math.round(s / 60)} min` : `${Math.round(s / 3600)} h`;
  say.textContent = `This device’s own clock is ${much} ${off > 0 ? "ahead of" : "behind"} the shop’s computer: one of them is wrong.`;
}

function clock(ms: number, offset: number): string {
  return new Date(ms + offset * 1000).toISOString().slice(11, 19);
}

function set(form: HTMLFormElement, name: string, value: string): void {
  (form.elements.namedItem(name) as HTMLInputElement).value = value;
}

// steps puts seconds into the field by thumb, from what was read last.
function steps(form: HTMLFormElement, seen: HTMLInputElement, looked: () => void): void {
  const row = form.querySelector<HTMLElement>("[data-steps]");
  if (!row) return;
  row.hidden = false;
  for (const b of row.querySelectorAll<HTMLButtonElement>("[data-step]")) {
    b.addEventListener("click", () => {
      looked();
      const by = Number(b.dataset.step);
      const from = seconds(seen.value) ?? Math.round(Number(row.dataset.last ?? 0));
      seen.value = by === 0 ? "right" : said(from + by);
    });
  }
}

// seconds reads what the steps write, null for anything else.
function seconds(text: string): number | null {
  if (text === "right") return 0;
  const m = /^(\d+(?:\.\d+)?) s (fast|slow)$/.exec(text);
  return m ? Number(m[1]) * (m[2] === "slow" ? -1 : 1) : null;
}

function said(s: number): string {
  return s === 0 ? "right" : `${Math.abs(s)} s ${s < 0 ? "slow" : "fast"}`;
}
