// Carries sound from the microphone to the page, a fiftieth of a second at a time. Nothing is made of it here.
const SAMPLES = 1024;
registerProcessor("ear", class extends AudioWorkletProcessor {
  held = new Float32Array(SAMPLES);
  count = 0;
  process([[sound]]) {
    if (!sound) return true;
    for (const sample of sound) {
      this.held[this.count++] = sample;
      if (this.count === SAMPLES) {
        this.port.postMessage(this.held, [this.held.buffer]);
        this.held = new Float32Array(SAMPLES);
        this.count = 0;
      }
    }
    return true;
  }
});
