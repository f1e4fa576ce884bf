// On a telephone the chapters of a clock are one row that is pushed sideways;
// the one that is open is brought into sight.

export function chapters(): void {
  const row = document.querySelector<HTMLElement>(".chapters.strip");
  const here = row?.querySelector<HTMLElement>("[aria-current]");
  if (!row || !here) return;
  const show = (): void => {
    row.scrollLeft = here.offsetLeft - row.offsetLeft - (row.clientWidth - here.offsetWidth) / 2;
  };
  show();
  void document.fonts.ready.then(show); // its own face may be wider
}
