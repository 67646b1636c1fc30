// A picture of the phone made small enough to keep: drawn anew, which also leaves out where it was taken.
const longest = 1024;        // points
const most = 150_000;        // bytes; the record takes 160 000

/// JPEG as base64; null when the file is no picture this browser can draw.
export async function shrink(file: Blob): Promise<string | null> {
  let picture: ImageBitmap;
  try {
    picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  } catch {
    return null;
  }
  try {
    for (let side = longest; side >= 256; side *= 0.75) {
      const scale = Math.min(1, side / Math.max(picture.width, picture.height));
      const canvas = document.createElement("canvas");
      canvas.width = Math.max(1, Math.round(picture.width * scale));
      canvas.height = Math.max(1, Math.round(picture.height * scale));
      canvas.getContext("2d")?.drawImage(picture, 0, 0, canvas.width, canvas.height);
      for (const quality of [0.82, 0.65, 0.5]) {
        const small = await new Promise<Blob | null>((done) => canvas.toBlob(done, "image/jpeg", quality));
        if (small && small.type === "image/jpeg" && small.size <= most) return base64Of(small);
      }
    }
    return null;
  } finally {
    picture.close();
  }
}

async function base64Of(blob: Blob): Promise<string> {
  const bytes = new Uint8Array(await blob.arrayBuffer());
  let text = "";
  for (let at = 0; at < bytes.length; at += 8192) text += String.fromCharCode(...bytes.subarray(at, at + 8192));
  return btoa(text);
}
