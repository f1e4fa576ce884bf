// A form is sent once, however often its button is pressed, and the summary
// of mistakes takes the focus.

export function submits(): void {
  document.getElementById("error-summary")?.focus();
  for (const form of document.querySelectorAll<HTMLFormElement>("form[method=post]")) {
    form.addEventListener("submit", (e) => {
      if (form.dataset.sent) e.preventDefault();
      form.dataset.sent = "yes";
    });
  }
  // A page that comes back from the browser's memory can be sent again.
  window.addEventListener("pageshow", () => {
    for (const form of document.querySelectorAll<HTMLFormElement>("form[data-sent]")) delete form.dataset.sent;
  });
}
