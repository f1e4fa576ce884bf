// The microphone: the way that loses nothing unseen first. Every piece of
// sound comes with the number of its first sample; the first second, in which
// devices settle, is left out.

export interface Piece {
  first: number; // number of the first sample, counted from the first that is sent
  device: number; // s by the device's clock, NaN where not known
  discarded: number; // samples that the browser has thrown away, in all
  samples: Float32Array;
}

export interface Microphone {
  path: "processor" | "worklet";
  rate: number;
  label: string;
  settings: MediaTrackSettings;
  reached(): number; // number of the sample that comes next, what is not sent yet among those that came
  stop(): void;
}

export interface Heard {
  piece(p: Piece): void;
  event(kind: string): void;
}

// Chromium's reader of a track, not yet in the library of types.
interface Reader {
  readable: ReadableStream<AudioData>;
  discardedFrames?: number;
}
interface AudioData {
  timestamp: number; // µs
  numberOfFrames: number;
  sampleRate: number;
  copyTo(to: Float32Array, o: { planeIndex: number; format: string }): void;
  close(): void;
}
type ReaderMaker = new (o: { track: MediaStreamTrack; maxBufferSize: number }) => Reader;

const settle = 1; // s

export async function open(module: string, on: Heard): Promise<Microphone> {
  const stream = await navigator.mediaDevices.getUserMedia({
    audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: false, channelCount: 1 },
  });
  const track = stream.getAudioTracks()[0];
  watch(track, on);
  const maker = (window as unknown as { MediaStreamTrackProcessor?: ReaderMaker }).MediaStreamTrackProcessor;
  if (maker) {
    try {
      return await processor(maker, track, on);
    } catch {
      // some browsers have it for pictures alone
    }
  }
  return worklet(stream, track, module, on);
}

function watch(track: MediaStreamTrack, on: Heard): void {
  for (const kind of ["mute", "unmute", "ended"]) track.addEventListener(kind, () => on.event(kind));
  navigator.mediaDevices.addEventListener("devicechange", () => on.event("devicechange"));
}

async function processor(maker: ReaderMaker, track: MediaStreamTrack, on: Heard): Promise<Microphone> {
  const source = new maker({ track, maxBufferSize: 1000 });
  const reader = source.readable.getReader();
  const first = await reader.read();
  if (first.done) throw new Error("no sound");
  const rate = first.value.sampleRate;
  first.value.close();
  const count = { at: 0 };
  void read(reader, rate, () => source.discardedFrames ?? 0, count, on);
  return {
    path: "processor",
    rate,
    label: track.label,
    settings: track.getSettings(),
    reached: () => count.at,
    stop: () => track.stop(),
  };
}

// A block that waits until it is sure whether sound was lost before it.
interface Waiting {
  at: number; // s, its time stamp
  discarded: number;
  samples: Float32Array;
}

const sure = 40; // blocks

// read numbers the samples. Stamps tremble, and come late where the computer
// is busy; where all of the next blocks have come late by most of a block,
// sound was lost, and the count jumps by as much.
async function read(reader: ReadableStreamDefaultReader<AudioData>, rate: number, discarded: () => number, reached: { at: number }, on: Heard): Promise<void> {
  let count = -Math.round(settle * rate);
  let due = NaN; // s, stamp that is expected of the first that waits
  let begun = false;
  const waiting: Waiting[] = [];
  const next = (): void => {
    const { at, samples, discarded } = waiting[0];
    const n = samples.length;
    if (Number.isNaN(due)) due = at;
    const most = (0.8 * n) / rate;
    let late = Infinity;
    let last = 0;
    let expected = due;
    for (const w of waiting) {
      last = w.at - expected;
      late = Math.min(late, last);
      expected += w.samples.length / rate;
    }
    if (late > most) {
      count += Math.round(late * rate);
      due += late;
    } else {
      due += 0.02 * Math.max(-n / rate, Math.min(n / rate, at - due)); // the device's clock is not the count's
    }
    if (count >= 0 && !begun && last <= most) {
      // a run does not begin just before a loss
      begun = true;
      count = 0;
    }
    if (begun) on.piece({ first: count, device: at, samples, discarded });
    count += n;
    due += n / rate;
    waiting.shift();
  };
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    if (value.sampleRate !== rate) {
      while (waiting.length > 0) next();
      on.event("rate"); // what comes now would be reckoned wrongly
      return;
    }
    const samples = new Float32Array(value.numberOfFrames);
    value.copyTo(samples, { planeIndex: 0, format: "f32-planar" });
    waiting.push({ at: value.timestamp / 1e6, samples, discarded: discarded() });
    value.close();
    if (waiting.length > sure) next();
    reached.at = begun ? waiting.reduce((n, w) => n + w.samples.length, count) : 0;
  }
  while (waiting.length > 0) next();
  on.event("ended");
}

async function worklet(stream: MediaStream, track: MediaStreamTrack, module: string, on: Heard): Promise<Microphone> {
  const context = new AudioContext(); // at the rate of the device, so that nothing is converted
  await context.audioWorklet.addModule(module);
  const source = context.createMediaStreamSource(stream);
  const node = new AudioWorkletNode(context, "capture", { numberOfOutputs: 1, channelCount: 1, channelCountMode: "explicit", channelInterpretation: "speakers" });
  let start = NaN;
  let base = NaN;
  let reached = 0;
  node.port.onmessage = (e: MessageEvent<{ first: number; samples: Float32Array }>) => {
    const { first, samples } = e.data;
    if (Number.isNaN(start)) start = first + settle * context.sampleRate;
    if (Number.isNaN(base) && first >= start) base = first;
    if (!(first >= base)) return;
    reached = first - base + samples.length;
    on.piece({ first: first - base, device: NaN, discarded: 0, samples });
  };
  context.addEventListener("statechange", () => on.event(context.state));
  source.connect(node);
  node.connect(context.destination); // silent: it keeps the node running
  await context.resume();
  return {
    path: "worklet",
    rate: context.sampleRate,
    label: track.label,
    settings: track.getSettings(),
    reached: () => reached,
    stop: () => {
      track.stop();
      void context.close();
    },
  };
}
