// A calculation that takes longer than a moment says so, for how long, and can
// be stopped: what was typed stays. A search shows what it has until then, and
// is stopped with that.

import { follow } from "./follow";
import { show } from "./now";

const moment = 150; // ms
const longestAddress = 6000;

export function working(): void {
  const form = document.querySelector<HTMLFormElement>("form.inputs");
  const actions = form?.querySelector<HTMLElement>(":scope > .actions");
  if (!form || !actions) return;
  const says = document.createElement("span");
  says.setAttribute("role", "status");
  const took = document.createElement("span"); // not read aloud each second
  took.setAttribute("aria-hidden", "true");
  actions.append(says, took);
  let ticking = 0;
  const rest = () => {
    window.clearInterval(ticking);
    says.textContent = took.textContent = "";
    actions.querySelector("[data-stop]")?.remove();
    delete form.dataset.sent;
    document.getElementById("so-far")?.setAttribute("hidden", "");
  };
  form.addEventListener("submit", (e) => {
    if (e.defaultPrevented || search(form, e)) return;
    const began = performance.now();
    ticking = window.setInterval(() => {
      const gone = performance.now() - began;
      if (gone < moment) return;
      took.textContent = ` ${(gone / 1000).toFixed(0)} s `;
      if (actions.querySelector("[data-stop]")) return;
      says.textContent = "Working it out ";
      const stop = document.createElement("button");
      stop.type = "button";
      stop.className = "plain";
      stop.dataset.stop = "";
      stop.textContent = "Stop";
      stop.addEventListener("click", () => {
        window.stop();
        rest();
        says.textContent = "Stopped; nothing was kept.";
      });
      actions.append(stop);
    }, 100);
  });
  window.addEventListener("pageshow", rest);
}

// search follows the search that the form asks for instead of sending it;
// false where the form is to be sent. What was typed wrongly is left to the
// page of the mistakes.
function search(form: HTMLFormElement, e: Event): boolean {
  const place = document.getElementById("so-far");
  const asked = new URLSearchParams();
  for (const [name, value] of new FormData(form)) {
    if (name !== "token" && typeof value === "string" && value.trim() !== "") asked.append(name, value);
  }
  const stop = place?.querySelector("button");
  const bar = place?.querySelector("progress");
  const rows = document.getElementById("rows");
  if (!place || !stop || !bar || !rows || asked.toString().length > longestAddress) return false;
  e.preventDefault();
  const done = (say: string): void => {
    stop.hidden = true;
    delete form.dataset.sent;
    show({ say, state: "ended" });
  };
  let answer = "";
  const began = window.setTimeout(() => {
    place.hidden = false;
    place.scrollIntoView({ block: "start" });
  }, moment);
  const leave = follow(
    place.dataset.follow! + "?" + asked.toString(),
    (m) => {
      answer = String(m.at ?? "");
      if (m.running === false) {
        window.clearTimeout(began);
        if (m.state === "faulty") form.submit();
        else location.assign(answer);
        return;
      }
      show(m);
      if (Number(m.share) > 0) bar.value = Number(m.share);
      if (typeof m.rows === "string" && !rows.contains(document.activeElement)) {
        const first = rows.childElementCount === 0;
        rows.replaceChildren(...Array.from(new DOMParser().parseFromString(m.rows, "text/html").body.childNodes));
        if (first && !place.hidden) place.scrollIntoView({ block: "start" });
      }
    },
    () => {
      window.clearTimeout(began);
      done("The connection was lost, and the search ended with it. Work it out once more.");
    },
  );
  rows.replaceChildren();
  bar.removeAttribute("value");
  stop.hidden = false;
  stop.onclick = () => {
    leave();
    done("Stopped.");
    if (answer !== "") location.assign(answer);
  };
  return true;
}
