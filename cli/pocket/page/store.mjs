// What the page remembers on this device: the last frames with their ticks, and how the page is set. Nothing else is
// kept, nothing leaves the device, and where a browser keeps nothing the page says so.

const KEY = 'dryfit';
const MOST_FRAMES = 12;

function usable(kept) {
  const frames = Array.isArray(kept.frames) ? kept.frames : [];
  return {
    settings: kept.settings && typeof kept.settings === 'object' ? kept.settings : {},
    frames: frames.filter((frame) => frame && typeof frame.text === 'string' && typeof frame.id === 'string')
      .map((frame) => ({
        id: frame.id,
        name: String(frame.name || ''),
        text: frame.text,
        made: Array.isArray(frame.made) ? frame.made.map(String) : [],
        ticked: Array.isArray(frame.ticked) ? frame.ticked.map(String) : [],
        step: Number.isInteger(frame.step) ? frame.step : 0,
        source: String(frame.source || ''),
      })),
  };
}

/// Names a text: of a frame that came with the page it is kept which one it was, so that what became of it is opened.
export function nameOfText(text) {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i += 1) { hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193) >>> 0; }
  return text.length + '-' + hash.toString(16);
}

export class Store {
  constructor(storage) {
    this.storage = storage;
    this.works = true;
    let text = null;
    try { text = storage.getItem(KEY); } catch (error) { this.works = false; }
    let kept = {};
    try { kept = JSON.parse(text || '{}') || {}; } catch (error) { kept = {}; }
    Object.assign(this, usable(kept));
  }

  /// The frame goes to the front; the oldest go where room runs out. False when nothing is kept.
  keep(frame) {
    this.frames = [frame, ...this.frames.filter((other) => other.id !== frame.id)].slice(0, MOST_FRAMES);
    return this.save();
  }
  forget(id) {
    this.frames = this.frames.filter((frame) => frame.id !== id);
    return this.save();
  }
  save() {
    for (let frames = this.frames; ; frames = frames.slice(0, -1)) {
      try {
        this.storage.setItem(KEY, JSON.stringify({ settings: this.settings, frames }));
        this.works = true;
        return true;
      } catch (error) {
        if (frames.length <= 1) { this.works = false; return false; }
      }
    }
  }
}

/// The browser's memory, or one that refuses everything where even asking for it throws.
export function deviceStorage() {
  try { return window.localStorage; } catch (error) {
    const refuse = () => { throw error; };
    return { getItem: refuse, setItem: refuse };
  }
}
