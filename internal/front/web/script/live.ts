// The page that listens now: it opens the microphone, sends the sound, and
// shows what the server makes of it.

import { open, type Microphone } from "./microphone";
import { Meter } from "./meter";
import { show, ribbon } from "./now";
import { Sender } from "./sender";

export function live(): void {
  const form = document.querySelector<HTMLFormElement>("form[data-live]");
  if (!form) return;
  const stop = document.getElementById("stop") as HTMLButtonElement;
  const begin = document.getElementById("begin") as HTMLButtonElement;
  form.addEventListener("submit", (e) => {
    e.preventDefault();
    begin.disabled = true;
    void run(form, stop).catch((err: unknown) => {
      begin.disabled = false;
      trouble(why(err));
    });
  });
}

const page = (id: string): HTMLElement => document.getElementById(id)!;

function trouble(words: string): void {
  page("trouble").textContent = words;
  page("trouble").hidden = words === "";
}

function why(err: unknown): string {
  switch (err instanceof DOMException ? err.name : "") {
    case "NotAllowedError":
      return "The browser did not allow the microphone. Allow it for this address, beside the address of the page, and begin again.";
    case "NotFoundError":
      return "No microphone was found. Plug one in and begin again, or record with another device and bring the file.";
    case "NotReadableError":
      return "Another program has the microphone. Close that one and begin again.";
  }
  if (!navigator.mediaDevices) return "This browser gives a microphone only to pages of this computer, or over https. Open Seatboard as http://localhost, or bring a recording.";
  return "The microphone could not be opened: " + String(err instanceof Error ? err.message : err) + ".";
}

async function run(form: HTMLFormElement, stop: HTMLButtonElement): Promise<void> {
  trouble("");
  let sender: Sender | null = null;
  let mic: Microphone | null = null;
  const meter = new Meter(page("level") as HTMLMeterElement, page("level-words"));
  const early: string[] = [];
  const event = (kind: string): void => {
    if (sender) sender.event(kind);
    else early.push(kind);
  };
  mic = await open(form.dataset.module!, {
    piece: (p) => {
      meter.take(p.samples);
      sender?.piece(p);
    },
    event,
  });
  const typed = Object.fromEntries(["clock", "train", "beats"].map((n) => [n, (form.elements.namedItem(n) as HTMLInputElement).value]));
  const sound = (form.elements.namedItem("sound") as HTMLInputElement).checked;
  const start = { ...typed, sound, capture: 1, path: mic.path, rate: mic.rate, label: mic.label, settings: JSON.stringify({ ...mic.settings, userAgent: navigator.userAgent }) };
  const token = (form.elements.namedItem("token") as HTMLInputElement).value;
  page("running").hidden = false;
  form.hidden = true;
  stop.focus();
  let at = "";
  let figure = 0;
  let ending = false;
  const finish = (): void => {
    mic!.stop();
    window.clearInterval(figure);
    begin().disabled = false;
  };
  sender = new Sender(
    location.origin.replace(/^http/, "ws") + "/listen/live/sound",
    token,
    start,
    () => mic!.reached(),
    (m) => {
      if (typeof m.refused === "string") {
        finish();
        page("running").hidden = true;
        form.hidden = false;
        trouble(m.refused);
        sender!.close();
        return;
      }
      if (typeof m.at === "string") at = m.at;
      show(m);
      if (m.running === false && at !== "") {
        finish();
        sender!.close();
        location.assign(at);
      }
    },
    (yes) => {
      if (!ending) trouble(yes ? "The connection to Seatboard is lost. The run goes on; the last minute of sound is kept here and sent when it is back." : "");
    },
  );
  for (const kind of early) sender.event(kind, 0);
  figure = window.setInterval(() => void ribbon(at), 4000);
  document.addEventListener("visibilitychange", () => event(document.hidden ? "hidden" : "visible"));
  awake(event);
  stop.addEventListener("click", (e) => {
    e.preventDefault();
    ending = true;
    mic!.stop();
    sender!.end();
  });
}

const begin = (): HTMLButtonElement => page("begin") as HTMLButtonElement;

// awake keeps the screen on, and says when it is not kept: a phone that
// sleeps hears nothing.
function awake(event: (kind: string) => void): void {
  const words = page("awake");
  const lost = (): void => {
    words.textContent = "The screen is not kept awake. Keep it on yourself: a phone that sleeps hears nothing.";
    event("asleep");
  };
  const take = (): void => {
    if (!("wakeLock" in navigator)) return lost();
    navigator.wakeLock.request("screen").then((lock) => {
      words.textContent = "";
      event("awake");
      lock.addEventListener("release", lost);
    }, lost);
  };
  take();
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden) take();
  });
}
