// A HEIC is kept as it comes, and the server cannot show it. Where the
// browser can, it makes a JPEG of it, which is kept beside the original.

const most = 16_000_000; // pixels that a canvas takes on every telephone

// jpegOf gives the JPEG, or null where the browser cannot make one.
export async function jpegOf(file: Blob): Promise<Blob | null> {
  try {
    const full = await createImageBitmap(file);
    const by = Math.min(1, Math.sqrt(most / (full.width * full.height)));
    const canvas = document.createElement("canvas");
    canvas.width = Math.floor(full.width * by);
    canvas.height = Math.floor(full.height * by);
    canvas.getContext("2d")!.drawImage(full, 0, 0, canvas.width, canvas.height);
    full.close();
    return await new Promise((ok) => canvas.toBlob(ok, "image/jpeg", 0.92));
  } catch {
    return null;
  }
}
