// The camera and photos, as the app sees them: start, be told of a text, stop.

import { signal, type ReadonlySignal } from '@preact/signals';
import type { ScanAnswer, ScanJob } from './scan-worker';

/** About ten looks a second: more only warms the phone. */
const LOOK_EVERY = 100;
/** The centre crop's share of the shorter side; small codes are held to the middle. */
const CENTRE = 0.6;
/** Every third look takes the whole picture, for codes that are held off the middle. */
const WHOLE_EVERY = 3;
/** A larger picture costs time and finds no more. */
const WHOLE_WIDTH = 1280;

const trouble = signal('');
/** Why scanning does not work, for a person to read; '' when it does. */
export const scanTrouble: ReadonlySignal<string> = trouble;

let reader: Worker | undefined;
let lastJob = 0;
const waiting = new Map<number, (answer: ScanAnswer) => void>();

function look(picture: ImageData | Blob, hard: boolean): Promise<ScanAnswer> {
  if (!reader) {
    reader = new Worker(__SCAN_URL__, { name: 'stillroom-scan' });
    reader.addEventListener('message', (event: MessageEvent<ScanAnswer>) => {
      waiting.get(event.data.id)?.(event.data);
      waiting.delete(event.data.id);
    });
    reader.addEventListener('error', () => {
      for (const [id, done] of waiting) done({ id, texts: [], trouble: 'the reader could not be started' });
      waiting.clear();
      reader = undefined;
    });
  }
  const job: ScanJob = { id: ++lastJob, picture, hard };
  return new Promise((resolve) => {
    waiting.set(job.id, resolve);
    reader?.postMessage(job);
  });
}

function explain(error: unknown): string {
  const name = error instanceof DOMException ? error.name : '';
  switch (name) {
    case 'NotAllowedError':
      return 'The camera is not allowed for this page. Allow it in the browser’s settings, take a photo, or type the code.';
    case 'NotFoundError':
    case 'OverconstrainedError':
      return 'No camera was found. Take a photo or type the code.';
    case 'NotReadableError':
      return 'The camera is in use by another program. Close that one, take a photo, or type the code.';
    default:
      return 'The camera could not be opened. Take a photo or type the code.';
  }
}

class Frame {
  private readonly canvas = document.createElement('canvas');
  private readonly pen = this.canvas.getContext('2d', { willReadFrequently: true });

  /** The middle of the picture at full sharpness, or all of it made smaller. */
  take(video: HTMLVideoElement, whole: boolean): ImageData | undefined {
    const width = video.videoWidth;
    const height = video.videoHeight;
    if (!this.pen || width === 0 || height === 0) return undefined;
    const side = Math.round(Math.min(width, height) * CENTRE);
    const from = whole
      ? { x: 0, y: 0, w: width, h: height }
      : { x: (width - side) >> 1, y: (height - side) >> 1, w: side, h: side };
    const scale = whole ? Math.min(1, WHOLE_WIDTH / width) : 1;
    this.canvas.width = Math.round(from.w * scale);
    this.canvas.height = Math.round(from.h * scale);
    this.pen.drawImage(video, from.x, from.y, from.w, from.h, 0, 0, this.canvas.width, this.canvas.height);
    return this.pen.getImageData(0, 0, this.canvas.width, this.canvas.height);
  }
}

/** One opened camera; it closes itself while the page is hidden and opens again with it. */
class Camera {
  private stream: MediaStream | undefined;
  private stopped = false;

  constructor(private readonly video: HTMLVideoElement) {
    // Without these three iOS opens its own player instead of drawing in the page.
    video.setAttribute('playsinline', '');
    video.muted = true;
    video.autoplay = true;
  }

  async open(): Promise<void> {
    const devices = navigator.mediaDevices as MediaDevices | undefined;
    if (!devices) throw new DOMException('no camera', 'NotFoundError');
    const stream = await devices.getUserMedia({
      audio: false,
      video: { facingMode: { ideal: 'environment' }, width: { ideal: 1920 }, height: { ideal: 1080 } },
    });
    if (this.stopped || document.hidden) {
      for (const track of stream.getTracks()) track.stop();
      return;
    }
    this.stream = stream;
    this.video.srcObject = stream;
    await this.video.play().catch(() => undefined);
  }

  close(): void {
    for (const track of this.stream?.getTracks() ?? []) track.stop();
    this.stream = undefined;
    this.video.srcObject = null;
  }

  stop(): void {
    this.stopped = true;
    this.close();
  }

  get showing(): boolean {
    return this.stream !== undefined && this.video.readyState >= HTMLMediaElement.HAVE_CURRENT_DATA;
  }
}

/**
 * Opens the camera in `video` and calls `found` with each text that it reads (the same one at most every two seconds).
 * Resolves with a function that stops it. When there is no camera it resolves too, and scanTrouble says why.
 */
export async function scan(video: HTMLVideoElement, found: (text: string) => void): Promise<() => void> {
  const camera = new Camera(video);
  const frame = new Frame();
  let running = true;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let looks = 0;
  let last = { text: '', at: 0 };

  const open = () =>
    camera.open().then(
      () => {
        trouble.value = '';
      },
      (error: unknown) => {
        trouble.value = explain(error);
      },
    );

  const step = async (): Promise<void> => {
    if (!running) return;
    const began = performance.now();
    const picture = camera.showing ? frame.take(video, looks++ % WHOLE_EVERY === WHOLE_EVERY - 1) : undefined;
    if (picture) {
      const answer = await look(picture, false);
      if (!running) return;
      if (answer.trouble) trouble.value = `Codes cannot be read from the camera: ${answer.trouble}. Type the code.`;
      const text = answer.texts[0];
      const now = performance.now();
      if (text !== undefined && (text !== last.text || now - last.at > 2000)) {
        last = { text, at: now };
        found(text);
      }
    }
    timer = setTimeout(() => void step(), Math.max(0, LOOK_EVERY - (performance.now() - began)));
  };

  const shown = () => {
    if (document.hidden) camera.close();
    else void open();
  };

  document.addEventListener('visibilitychange', shown);
  await open();
  void step();
  return () => {
    running = false;
    clearTimeout(timer);
    document.removeEventListener('visibilitychange', shown);
    camera.stop();
    trouble.value = '';
  };
}

/** The text of the first code in a photo, '' when none was found. */
export async function scanPhoto(file: Blob): Promise<string> {
  const answer = await look(file, true);
  return answer.texts[0] ?? '';
}
