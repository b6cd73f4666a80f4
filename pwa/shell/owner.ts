// One writer among tabs. The lock says who it is; the fence in keep.ts makes it true even for a tab that was slow to hear.

const LOCK = 'stillroom-book';
/** A page that is loaded again meets the lock of the page that it replaces for a moment: only then is it elsewhere. */
const PATIENCE = 700;

export interface OwnerEvents {
  /** this worker has the book now */
  mine(): void;
  /** another has it */
  elsewhere(): void;
}

export class Owner {
  private asked = 0;
  /** the request that holds the lock: this worker may have several, and may even take the lock from itself */
  private holder = 0;

  constructor(private readonly events: OwnerEvents) {}

  start(): void {
    const timer = setTimeout(() => this.events.elsewhere(), PATIENCE);
    this.request({}, () => clearTimeout(timer));
  }

  takeOver(): void {
    this.request({ steal: true }, () => undefined);
  }

  private request(options: LockOptions, granted: () => void): void {
    const id = ++this.asked;
    navigator.locks
      .request(LOCK, options, () => {
        granted();
        this.holder = id;
        this.events.mine();
        // Held until this worker ends or another takes it.
        return new Promise<never>(() => undefined);
      })
      .catch(() => {
        if (this.holder === id) this.events.elsewhere();
      });
  }
}
