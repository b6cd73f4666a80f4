// Photos on their way to the home store: in pieces, each beginning where the last one ended, whichever line it went over.
// One is let go as due only when the home store says that it has all of it; the picture itself stays on this phone.

import { duePhotos, photoArrived, readPhoto } from './keep';

const PIECE = 256 << 10;
const AGAIN = 30_000;

export class PhotoSender {
  private running = false;
  private wanted = false;
  private stopped = false;
  private timer: ReturnType<typeof setTimeout> | undefined;

  /** tell hears how many photos are still on this phone alone. */
  constructor(
    private readonly token: () => string,
    private readonly tell: (due: number) => void,
  ) {}

  /** There may be something to send, and somebody to send it to. */
  async nudge(): Promise<void> {
    this.wanted = true;
    if (this.running || this.stopped) return;
    this.running = true;
    clearTimeout(this.timer);
    try {
      while (this.wanted && !this.stopped) {
        this.wanted = false;
        await this.sendAll();
      }
    } catch {
      // It stays due. A line that comes back nudges too; a full or busy home store is asked again by the clock.
      if (!this.stopped) this.timer = setTimeout(() => void this.nudge(), AGAIN);
    }
    this.running = false;
  }

  stop(): void {
    clearTimeout(this.timer);
    this.stopped = true;
  }

  private async sendAll(): Promise<void> {
    const due = await duePhotos();
    let left = due.length;
    let failed: unknown;
    this.tell(left);
    for (const name of due) {
      if (this.stopped) return;
      const bytes = await readPhoto(name);
      if (!bytes) continue;
      try {
        await this.send(name, bytes);
        await photoArrived(name);
        this.tell(--left);
      } catch (error) {
        // One that the home store does not take holds up no other; a line that is gone holds up all.
        if (!(error instanceof NotTaken)) throw error;
        failed = error;
      }
    }
    if (failed) throw failed;
  }

  private async send(name: string, bytes: ArrayBuffer): Promise<void> {
    const asked = await this.ask(name, { method: 'HEAD' });
    let at = offset(asked);
    if (asked.ok && at === bytes.byteLength) return;
    for (;;) {
      const answer = await this.ask(name, {
        method: 'PATCH',
        headers: { 'Upload-Offset': String(at), 'Upload-Length': String(bytes.byteLength) },
        body: bytes.slice(at, at + PIECE),
      });
      // 409: another tab or an answer that was lost has moved it on.
      if (answer.status !== 200 && answer.status !== 202 && answer.status !== 409) throw new NotTaken(`the home store answered ${answer.status}`);
      at = offset(answer);
      if (answer.status === 200 && at === bytes.byteLength) return;
    }
  }

  private ask(name: string, { headers, ...init }: RequestInit): Promise<Response> {
    return fetch('/api/photos/' + name, { ...init, headers: { ...headers, Authorization: `Bearer ${this.token()}` }, cache: 'no-store' });
  }
}

/** The home store said no to this photo. */
class NotTaken extends Error {}

/** A captive portal answers too: without this header it was not the home store. */
function offset(answer: Response): number {
  const at = answer.headers.get('Upload-Offset');
  if (at === null) throw new Error('what answered was not the home store');
  return Number(at);
}

/** A photo from this phone, or from the home store when another phone took it; undefined when neither has it now. */
export async function findPhoto(name: string, token: string): Promise<Blob | undefined> {
  const mine = await readPhoto(name);
  if (mine) return new Blob([mine], { type: 'image/jpeg' });
  const answer = await fetch('/api/photos/' + name, { headers: { Authorization: `Bearer ${token}` } }).catch(() => undefined);
  return answer?.ok && answer.headers.get('Content-Type')?.startsWith('image/') ? answer.blob() : undefined;
}
