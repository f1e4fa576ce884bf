// The part of the capture that runs beside the sound: it hands the samples
// of one channel on, in blocks, with the number of the first of them. It is a
// file of its own because the policy of the page allows no other.

declare const currentFrame: number;
declare abstract class AudioWorkletProcessor {
  readonly port: MessagePort;
}
declare function registerProcessor(name: string, of: new () => AudioWorkletProcessor): void;

const size = 4096;

registerProcessor(
  "capture",
  class extends AudioWorkletProcessor {
    private held = new Float32Array(size);
    private n = 0;
    private first = 0;

    process(inputs: Float32Array[][]): boolean {
      const x = inputs[0]?.[0];
      if (!x) return true;
      if (this.n === 0) this.first = currentFrame;
      if (this.first + this.n !== currentFrame || this.n + x.length > size) this.give();
      if (this.n === 0) this.first = currentFrame;
      this.held.set(x, this.n);
      this.n += x.length;
      return true;
    }

    private give(): void {
      if (this.n === 0) return;
      const samples = this.held.slice(0, this.n);
      this.port.postMessage({ first: this.first, samples }, [samples.buffer]);
      this.n = 0;
    }
  },
);
