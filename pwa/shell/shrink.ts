// A photo as the book keeps it: at most 1,600 pixels, upright, and without what a camera writes beside the picture, such as
// where it was taken.

/** Pixels of the longer side: enough to read a notebook's page, a twentieth of what a camera makes. */
const LONGEST = 1600;
const QUALITY = 0.85;

export interface Shrunk {
  /** SHA-256 of the bytes, in hexadecimal digits */
  name: string;
  bytes: ArrayBuffer;
  width: number;
  height: number;
}

/** Rejects when the file is not a picture that this browser can read. */
export async function shrink(file: Blob): Promise<Shrunk> {
  const url = URL.createObjectURL(file);
  try {
    const image = new Image();
    image.src = url;
    await image.decode();
    const scale = Math.min(1, LONGEST / Math.max(image.naturalWidth, image.naturalHeight));
    const canvas = document.createElement('canvas');
    canvas.width = Math.max(1, Math.round(image.naturalWidth * scale));
    canvas.height = Math.max(1, Math.round(image.naturalHeight * scale));
    canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height);
    const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/jpeg', QUALITY));
    if (!blob) throw new Error('the picture could not be written');
    const bytes = await blob.arrayBuffer();
    const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
    const name = Array.from(sum, (byte) => byte.toString(16).padStart(2, '0')).join('');
    return { name, bytes, width: canvas.width, height: canvas.height };
  } finally {
    URL.revokeObjectURL(url);
  }
}
