// A calculation that takes longer than a moment says so, for how long, and can
// be stopped: what was typed stays.

const moment = 150; // ms

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
  };
  form.addEventListener("submit", (e) => {
    if (e.defaultPrevented) return;
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
