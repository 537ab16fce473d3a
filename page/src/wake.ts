/** Keeps the screen on while somebody measures: by the browser's own lock where it is allowed,
 *  else by a silent moving picture, which most phones take as a reason to stay awake. Both only
 *  after a touch. What is in force is told, so that nobody relies on what is not there. */
export type WakeState = 'off' | 'lock' | 'video' | 'refused';

interface Sentinel extends EventTarget {
  release(): Promise<void>;
}

export class Wake {
  private sentinel: Sentinel | null = null;
  private video: HTMLVideoElement | null = null;
  private drawing: ReturnType<typeof setInterval> | undefined;
  private wanted = false;

  constructor(private readonly on_change: (state: WakeState) => void) {
    // The browser lets go of the lock when the page is hidden; it is asked for again on return.
    document.addEventListener('visibilitychange', () => {
      if (this.wanted && document.visibilityState === 'visible') void this.hold();
    });
  }

  /** Call from a touch or a key. */
  async hold(): Promise<void> {
    this.wanted = true;
    if (await this.hold_by_lock()) return this.on_change('lock');
    if (await this.hold_by_video()) return this.on_change('video');
    this.on_change('refused');
  }

  async release(): Promise<void> {
    this.wanted = false;
    await this.sentinel?.release().catch(() => undefined);
    this.sentinel = null;
    clearInterval(this.drawing);
    this.video?.remove();
    this.video = null;
    this.on_change('off');
  }

  private async hold_by_lock(): Promise<boolean> {
    const lock = (navigator as { wakeLock?: { request(type: 'screen'): Promise<Sentinel> } }).wakeLock;
    if (!lock) return false;
    try {
      this.sentinel = await lock.request('screen');
      return true;
    } catch {
      return false;  // battery saver, or no secure context
    }
  }

  private async hold_by_video(): Promise<boolean> {
    if (this.video) return true;
    const canvas = document.createElement('canvas');
    canvas.width = canvas.height = 2;
    const pen = canvas.getContext('2d');
    if (!pen || typeof canvas.captureStream !== 'function') return false;
    const video = document.createElement('video');
    video.muted = true;
    video.loop = true;
    video.playsInline = true;
    video.className = 'awake';
    video.setAttribute('aria-hidden', 'true');
    video.tabIndex = -1;
    video.srcObject = canvas.captureStream(2);
    document.body.append(video);
    let odd = false;
    const draw = (): void => {
      odd = !odd;
      pen.fillStyle = odd ? '#000' : '#010101';
      pen.fillRect(0, 0, 2, 2);
    };
    draw();
    this.drawing = setInterval(draw, 1_000);
    try {
      await video.play();
      this.video = video;
      return true;
    } catch {
      clearInterval(this.drawing);
      video.remove();
      return false;
    }
  }
}
