// A recording in a format that the server does not take is decoded by the
// browser and sent as WAV.

const taken = /\.(wav|wave|bwf|rf64|w64|flac|ogg|oga|opus|mp3|csv|txt)$/i;
const rate = 48000;

export function upload(): void {
  const form = document.querySelector<HTMLFormElement>("form[data-upload]");
  const input = form?.querySelector<HTMLInputElement>("input[type=file]");
  if (!form || !input) return;
  const said = document.getElementById("upload-said")!;
  form.addEventListener("submit", (e) => {
    const file = input.files?.[0];
    if (!file || taken.test(file.name)) {
      if (file) said.textContent = "Sending " + file.name + " …";
      return;
    }
    e.preventDefault();
    said.textContent = "The browser is decoding " + file.name + " …";
    void decoded(file).then(
      (wav) => {
        const files = new DataTransfer();
        files.items.add(wav);
        input.files = files.files;
        said.textContent = "Sending " + wav.name + " …";
        form.submit();
      },
      () => {
        delete form.dataset.sent;
        said.textContent = "";
        form.submit(); // the server says what it makes of it
      },
    );
  });
}

async function decoded(file: File): Promise<File> {
  const context = new OfflineAudioContext(1, 1, rate);
  const sound = await context.decodeAudioData(await file.arrayBuffer());
  return new File([wav(sound)], file.name + ".wav", { type: "audio/wav" });
}

// wav writes the first channel as 32-bit floating point.
function wav(sound: AudioBuffer): ArrayBuffer {
  const samples = sound.getChannelData(0);
  const bytes = new ArrayBuffer(44 + 4 * samples.length);
  const v = new DataView(bytes);
  const word = (at: number, s: string): void => {
    for (let i = 0; i < s.length; i++) v.setUint8(at + i, s.charCodeAt(i));
  };
  word(0, "RIFF");
  v.setUint32(4, 36 + 4 * samples.length, true);
  word(8, "WAVEfmt ");
  v.setUint32(16, 16, true);
  v.setUint16(20, 3, true); // IEEE float
  v.setUint16(22, 1, true);
  v.setUint32(24, sound.sampleRate, true);
  v.setUint32(28, 4 * sound.sampleRate, true);
  v.setUint16(32, 4, true);
  v.setUint16(34, 32, true);
  word(36, "data");
  v.setUint32(40, 4 * samples.length, true);
  new Float32Array(bytes, 44).set(samples);
  return bytes;
}
