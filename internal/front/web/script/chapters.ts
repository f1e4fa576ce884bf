// On a telephone the chapters of a clock are one row that is pushed sideways;
// the one that is open is brought into sight.

export function chapters(): void {
  const row = document.querySelector<HTMLElement>(".chapters.strip");
  const here = row?.querySelector<HTMLElement>("[aria-current]");
  if (!row || !here) return;
  row.scrollLeft = here.offsetLeft - row.offsetLeft - (row.clientWidth - here.offsetWidth) / 2;
}
