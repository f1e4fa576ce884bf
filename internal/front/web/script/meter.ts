// How loud it is: a bar, and the same in words.

const floor = -60; // dB of full scale, where the bar begins

export class Meter {
  private peak = 0;
  private loudest = 0;
  private shown = 0;

  constructor(
    private readonly bar: HTMLMeterElement,
    private readonly words: HTMLElement,
  ) {}

  take(x: Float32Array): void {
    for (const v of x) {
      const a = Math.abs(v);
      if (a > this.peak) this.peak = a;
    }
    const now = performance.now();
    if (now - this.shown > 250) this.show(now);
  }

  private show(now: number): void {
    this.shown = now;
    this.loudest = Math.max(this.peak, this.loudest * 0.85);
    const db = this.peak > 0 ? 20 * Math.log10(this.peak) : -Infinity;
    this.bar.value = Math.max(0, 1 - db / floor);
    const loud = 20 * Math.log10(this.loudest || 1e-9);
    let words = "good";
    if (this.loudest === 0) words = "no sound comes from the microphone";
    else if (this.loudest > 0.99) words = "too loud: it clips; move it away";
    else if (loud < -45) words = "quiet: lay it on the case";
    const text = `${loud < -90 ? "below −90" : loud.toFixed(0).replace("-", "−")} dB, ${words}`;
    if (this.words.textContent !== text) this.words.textContent = text;
    this.peak = 0;
  }
}
