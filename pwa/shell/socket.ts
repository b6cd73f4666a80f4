// The WebSocket to the home store: opened again for as long as it takes, patiently, and at once when there is a sign
// that it may be there. Whether it is there is known only from its answers, never from navigator.onLine.

const FIRST_WAIT = 500;
const LONGEST_WAIT = 10_000;

export interface SocketEvents {
  opened(): void;
  received(message: Uint8Array): void;
  closed(): void;
}

export class StoreSocket {
  private socket: WebSocket | undefined;
  private timer: ReturnType<typeof setTimeout> | undefined;
  private wait = FIRST_WAIT;
  private wanted = false;

  constructor(
    private readonly url: string,
    private readonly events: SocketEvents,
  ) {}

  start(): void {
    this.wanted = true;
    this.connect();
  }

  /** Ends it for good, until start(). */
  stop(): void {
    this.wanted = false;
    clearTimeout(this.timer);
    this.socket?.close();
    this.lost(this.socket);
  }

  /** A sign that it may be worth trying now: the network came back, the page is seen again. */
  nudge(): void {
    if (!this.wanted || this.socket) return;
    this.wait = FIRST_WAIT;
    this.connect();
  }

  /** The peer is known to be reachable and well: the next loss starts with short waits again. */
  settled(): void {
    this.wait = FIRST_WAIT;
  }

  /** Drops the connection; it is opened again after a wait. */
  drop(): void {
    const socket = this.socket;
    socket?.close();
    // A dead connection may take minutes to tell of its close; the host is told now.
    this.lost(socket);
  }

  send(message: Uint8Array): void {
    if (this.socket?.readyState === WebSocket.OPEN) this.socket.send(message as Uint8Array<ArrayBuffer>);
  }

  private connect(): void {
    clearTimeout(this.timer);
    if (!this.wanted || this.socket) return;
    const socket = new WebSocket(this.url);
    socket.binaryType = 'arraybuffer';
    this.socket = socket;
    socket.onopen = () => {
      if (this.socket === socket) this.events.opened();
    };
    socket.onmessage = (event: MessageEvent<ArrayBuffer | string>) => {
      // Text is nothing that the home store says: a portal or a proxy is in the way.
      if (this.socket !== socket) return;
      if (typeof event.data === 'string') this.drop();
      else this.events.received(new Uint8Array(event.data));
    };
    socket.onclose = () => this.lost(socket);
  }

  private lost(socket: WebSocket | undefined): void {
    if (!socket || this.socket !== socket) return;
    this.socket = undefined;
    this.events.closed();
    if (!this.wanted) return;
    clearTimeout(this.timer);
    // Some spread, so that eight phones do not knock in step after the home store starts again.
    this.timer = setTimeout(() => this.connect(), this.wait * (0.75 + Math.random() / 2));
    this.wait = Math.min(LONGEST_WAIT, this.wait * 2);
  }
}
