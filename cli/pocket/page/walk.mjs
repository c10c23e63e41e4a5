// Going through steps by finger and by keys, on every page that has some.

const PACE = 1600; // ms a step while the build plays
const SAME_TAP = 350; // ms

/// True once, and not again within a moment: a second tap that comes at once is taken for the same one.
export function oneTap(clock = Date.now) {
  let last = -Infinity;
  return () => {
    if (clock() - last < SAME_TAP) { return false; }
    last = clock();
    return true;
  };
}

/// What a key asks for: 'back', 'next', 'done', or '' where it is no key of ours.
export function wayOf(event) {
  if (event.altKey || event.ctrlKey || event.metaKey || event.repeat) { return ''; }
  return { ArrowLeft: 'back', ArrowRight: 'next', d: 'done', D: 'done' }[event.key] || '';
}

/// Plays steps forward (1) or backward (-1). `go(direction)` takes one and tells whether there was one; `changed()` hears
/// when playing begins and ends.
export class Player {
  constructor(go, changed = () => {}) {
    Object.assign(this, { go, changed, direction: 0, timer: 0 });
  }
  /// The same direction once more stops it.
  play(direction) {
    const again = this.direction === direction;
    this.end();
    if (!again) {
      this.direction = direction;
      this.timer = setInterval(() => { if (!this.go(direction)) { this.stop(); } }, PACE);
    }
    this.changed();
  }
  end() {
    clearInterval(this.timer);
    this.direction = 0;
  }
  stop() {
    if (this.direction === 0) { return; }
    this.end();
    this.changed();
  }
}
