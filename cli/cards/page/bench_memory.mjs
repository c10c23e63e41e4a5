// What the bench page remembers on this device: which ticks are set, and which page one is at. Where a browser keeps
// nothing, it is remembered for as long as the page is open.

export class BenchMemory {
  /// `storage()` gives the browser's memory; even asking for it may be refused.
  constructor(storage, key) {
    Object.assign(this, { storage, key, keeps: true, ticks: {}, at: 'start' });
    let text = null;
    try { text = storage().getItem(key); } catch (error) { this.keeps = false; }
    let kept = null;
    try { kept = JSON.parse(text || 'null'); } catch (error) { kept = null; } // not written by this page
    if (kept && typeof kept.ticks === 'object' && kept.ticks) {
      for (const [name, on] of Object.entries(kept.ticks)) { if (on === true) { this.ticks[name] = true; } }
      this.at = String(kept.at);
    }
  }
  has(name) { return this.ticks[name] === true; }
  tick(name, on) {
    if (on) { this.ticks[name] = true; } else { delete this.ticks[name]; }
    this.save();
  }
  goTo(at) {
    this.at = at;
    this.save();
  }
  clear() {
    this.ticks = {};
    this.save();
  }
  save() {
    try {
      this.storage().setItem(this.key, JSON.stringify({ ticks: this.ticks, at: this.at }));
      this.keeps = true;
    } catch (error) { this.keeps = false; }
  }
}
