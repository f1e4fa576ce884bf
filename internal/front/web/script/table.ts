// While a table is brought in the page says how far it is; the browser leaves
// the page by itself when the answer comes.

for (const form of document.querySelectorAll<HTMLFormElement>("form[data-bring]")) {
  form.addEventListener("submit", () => {
    const far = form.querySelector<HTMLElement>("[data-far]");
    if (!far) return;
    window.setInterval(() => void tell(form.dataset.bring ?? "", far), 250);
  });
}

async function tell(at: string, far: HTMLElement): Promise<void> {
  try {
    const answer = await fetch(at, { headers: { Accept: "application/json" } });
    if (!answer.ok) return;
    const told = (await answer.json()) as { done: number; total: number; busy: boolean };
    if (told.busy) far.textContent = `${Math.round(told.done / 1024)} of ${Math.round(told.total / 1024)} kB`;
  } catch {
    // the page is left, or the network is down: the server goes on
  }
}

export {};
