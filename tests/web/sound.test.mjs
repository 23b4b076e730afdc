// The tone as it leaves the page: rendered into a buffer and measured, and played through the
// browser's own audio clock.
import { check, finish, listing_of, same, with_page } from "./played_page.mjs";

const kPlain = { tempo: 1, again: false, count_in: 0, click: false };
const kFestival = "tests/support/flutes/equal-holes-seven.json";

// Runs in the page. A sample is mono, 48,000 a second.
const kMeasuring = `
  window.samples_of = async (listing, choices, stop) =>
    (await page.render(listing, choices, 48000, stop)).getChannelData(0);

  // One frequency of a stretch, as amplitude and phase, under a Hann window.
  window.at_frequency = (samples, from, length, hz) => {
    let re = 0, im = 0;
    for (let i = 0; i < length; ++i) {
      const window = 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / length);
      const turn = (2 * Math.PI * hz * (from + i)) / 48000;
      re += window * samples[from + i] * Math.cos(turn);
      im -= window * samples[from + i] * Math.sin(turn);
    }
    return { size: Math.hypot(re, im), phase: Math.atan2(im, re) };
  };

  // The strongest frequency from a tritone under a guess to one over it: the peak of the spectrum of
  // its beginning, then how the phase moves between two halves, of ever longer stretches.
  window.frequency = (samples, from, to, guess) => {
    let best = guess, most = 0;
    for (let hz = guess * 0.7; hz < guess * 1.45; hz += 3) {
      const { size } = at_frequency(samples, from, 2048, hz);
      if (size > most) [most, best] = [size, hz];
    }
    for (let half = 1024; 2 * half <= to - from; half *= 2) {
      const first = at_frequency(samples, from, half, best).phase;
      const second = at_frequency(samples, from + half, half, best).phase;
      let turned = second - first;
      turned -= 2 * Math.PI * Math.round(turned / (2 * Math.PI));
      best += (turned / (2 * Math.PI) / half) * 48000;
    }
    return best;
  };

  window.loudness = (samples, at, seconds) => {
    let sum = 0;
    const from = Math.max(0, Math.round(at * 48000)), to = Math.min(samples.length, Math.round((at + seconds) * 48000));
    for (let i = from; i < to; ++i) sum += samples[i] ** 2;
    return Math.sqrt(sum / Math.max(1, to - from));
  };
`;

async function frequencies(page) {
  // Every sign of the pipe, a bend, and the built-in flutes at another tuning with half holes.
  const tunes = [
    ["a festival flute", "flute: equal-holes-seven.json\ntempo: 100\n\n筒 一 二 三 | 四 五 六 七 | 閉 1 2 3 | 4 5 6 7 | 三↓20 五↑15 一 一 |=\n"],
    ["size 6 at 442 Hz", "flute: 6\ntuning: 442\ntempo: 100\n\n筒 一 二メ 三メ | 五 0 1 三↓30 | 7 8 2̇ 5̇ |=\n"],
    ["size 11 and 12 cents", "flute: 11+12c\ntempo: 100\n\n筒 四↑30 七メ 3メ | 5 6 7 8 |=\n"],
  ];
  for (const [name, tune] of tunes) {
    const listing = listing_of(tune, [kFestival]);
    const heard = await page.evaluate(
      async ([listing, choices]) => {
        const samples = await samples_of(listing, choices);
        return listing.played.map((tone) =>
          frequency(samples, Math.round((tone.at + 0.06) * 48000), Math.round((tone.at + tone.seconds - 0.06) * 48000), tone.hz));
      },
      [listing, kPlain],
    );
    const cents = heard.map((hz, i) => 1200 * Math.log2(hz / listing.played[i].hz));
    const worst = Math.max(...cents.map(Math.abs));
    console.log(`${name}: ${heard.length} tones, the worst ${worst.toFixed(3)} cents off`);
    check(`${name}: all within 2 cents`, worst <= 2 && heard.length > 0, String(worst));
  }
}

// 五 五 are parted, 五~ 六 are not; a breath takes more; a rest is silent.
async function gaps(page) {
  const listing = listing_of("flute: 6\ntempo: 60\n\n五 五 六 七 | 五~ 六 五{breath} 六 | ・ 五{staccato} 三{suri} 五 |=\n");
  const [levels, slide] = await page.evaluate(
    async ([listing, choices]) => {
      const samples = await samples_of(listing, choices);
      const least = (from, to) => {
        let found = Infinity;
        for (let at = from; at < to; at += 0.002) found = Math.min(found, loudness(samples, at, 0.004));
        return found;
      };
      const times = { full: [0.3, 0.7], struck: [0.9, 1.05], tongued: [1.9, 2.05], slurred: [4.9, 5.1],
        breath: [6.75, 6.95], rest: [8.05, 8.95], staccato: [9.6, 9.9], slide: [10.8, 11.1] };
      const levels = Object.fromEntries(Object.entries(times).map(([name, [from, to]]) => [name, least(from, to)]));
      return [levels, frequency(samples, Math.round(10.9 * 48000), Math.round(10.945 * 48000), 640)];
    },
    [listing, kPlain],
  );
  const part = (name) => levels[name] / levels.full;
  for (const name of ["struck", "tongued", "breath", "rest", "staccato"]) {
    check(`${name}: silent between`, part(name) < 0.05, String(part(name)));
  }
  for (const name of ["slurred", "slide"]) {
    check(`${name}: sounds through`, part(name) > 0.7, String(part(name)));
  }
  const [from, to] = [listing.played[9].hz, listing.played[10].hz];
  check("a slide is on its way", slide > from * 1.01 && slide < to * 0.99, `${slide} of ${from} to ${to}`);
}

// A pickup in 3/4 at 120: two bars of three and the two beats it lacks, then it; half as fast twice
// the time.
async function clicks(page) {
  const listing = listing_of("flute: 6\nmeter: 3/4\ntempo: 120\n\n・ | ・ ・ ・ | ・ 五 |=\n");
  for (const tempo of [1, 0.5]) {
    const onsets = await page.evaluate(
      async ([listing, choices]) => {
        const samples = await samples_of(listing, choices);
        const found = [];
        for (let i = 0, quiet = 0; i < samples.length; ++i) {
          if (Math.abs(samples[i]) > 0.01) {
            if (quiet > 4800) found.push(i / 48000);
            quiet = 0;
          } else quiet += 1;
          if (i === 0) quiet = 4801;
        }
        return found;
      },
      [listing, { ...kPlain, tempo, count_in: 2, click: true }],
    );
    const wanted = [...Array(14).keys()].map((beat) => (beat * 0.5) / tempo);
    same("one a beat", onsets.length, wanted.length);
    const worst = Math.max(...wanted.map((at, i) => Math.abs(at - (onsets[i] ?? Infinity))));
    console.log(`clicks at tempo ${tempo}: ${onsets.length}, the worst ${(worst * 1000).toFixed(2)} ms off`);
    check("clicks fall on the beats", worst < 0.002, JSON.stringify(onsets));
  }
}

// Bars 2 and 3 of four, and what reaches into them.
async function ranges(page) {
  const listing = listing_of("flute: 6\ntempo: 120\n\n一 - - - | - 二 三 四 | 五 - - - | 六 - - - |=\n");
  const plan = await page.evaluate((listing) => {
    const bars = page.bars_between(listing, "2", "3");
    const plan = page.plan_of(listing, { tempo: 2, bars, again: false, count_in: 1, click: false });
    return { bars, lead: plan.lead, length: plan.length, tones: plan.tones.map(({ note, at, end }) => [note, at, end]) };
  }, listing);
  same("the bars of the range", plan.bars, { first: 1, last: 2 });
  same("one bar of count-in, two of music", [plan.lead, plan.length], [1, 2]);
  same("its tones", plan.tones, [[0, 0, 0.25], [1, 0.25, 0.5], [2, 0.5, 0.75], [3, 0.75, 1], [4, 1, 2]]);
  const twice = listing_of("flute: 6\n\n|: 一 - - - | 二 - - - :| 三 - - - |=\n");
  same("over the repeat the shortest way", await page.evaluate((twice) => page.bars_between(twice, "1", "3"), twice), { first: 2, last: 4 });
  same("never played", await page.evaluate((twice) => page.bars_between(twice, "3", "1") ?? null, twice), null);
}

async function stops(page) {
  const listing = listing_of("flute: 6\ntempo: 60\n\n五 - - - |=\n");
  const [before, after] = await page.evaluate(
    async ([listing, choices]) => {
      const samples = await samples_of(listing, choices, 1);
      let most = 0;
      for (let i = Math.round(1.03 * 48000); i < samples.length; ++i) most = Math.max(most, Math.abs(samples[i]));
      return [loudness(samples, 0.8, 0.19), most];
    },
    [listing, kPlain],
  );
  check("it sounds until it is stopped", before > 0.05, String(before));
  check("30 ms later it is silent", after === 0, String(after));
}

// What goes to the loudspeaker is caught on its way: no jump from sample to sample that the tone
// itself does not have, and no silence, while texts and tempos change.
async function exchanges(page) {
  const tune = (end) => `flute: 6\ntempo: 60\n\n五 - - - | - - - - | - - - - | ${end} |=\n`;
  const listings = ["五 - - -", "六 - - -", "五 六 七 六"].map((end) => listing_of(tune(end)));
  const shorter = listing_of("flute: 6\ntempo: 60\n\n三 - - - |=\n");
  const found = await page.evaluate(
    async ([listings, shorter, choices]) => {
      const context = new AudioContext({ sampleRate: 48000 });
      const kept = [];
      const listener = `registerProcessor("ear", class extends AudioWorkletProcessor {
        process([input]) {
          this.port.postMessage(input[0] ? input[0].slice() : new Float32Array(128));
          return true;
        }
      });`;
      await context.audioWorklet.addModule(URL.createObjectURL(new Blob([listener], { type: "text/javascript" })));
      const ear = new AudioWorkletNode(context, "ear");
      ear.port.onmessage = ({ data }) => kept.push(data);
      ear.connect(context.destination);
      const { connect } = AudioNode.prototype;
      AudioNode.prototype.connect = function (to, ...more) {
        if (to === context.destination && this !== ear) connect.call(this, ear);
        return connect.call(this, to, ...more);
      };
      const wait = (ms) => new Promise((go) => setTimeout(go, ms));
      let ended = 0;
      const notes = [];
      const player = new page.Player(context, (note) => notes.push(note), () => (ended += 1));
      player.play(listings[0], choices);
      await wait(600);
      for (let i = 0; i < 12; ++i) {
        player.exchange(listings[i % 3], { ...choices, tempo: i % 4 === 3 ? 0.9 : 1 });
        await wait(90);
      }
      const playing = player.playing;
      // Three bars on there is no such bar any more.
      player.play(listings[0], { ...choices, bars: { first: 2, last: 3 } });
      await wait(500);
      const until = kept.length;
      player.exchange(shorter);
      const stopped = !player.playing;
      await wait(300);
      AudioNode.prototype.connect = connect;
      await context.close();
      const flat = (list) => Float32Array.from(list.flatMap((one) => [...one]));
      const all = flat(kept.slice(0, until));
      let jump = 0;
      for (let i = 1; i < all.length; ++i) jump = Math.max(jump, Math.abs(all[i] - all[i - 1]));
      const steady = [];
      const first = all.findIndex((value) => Math.abs(value) > 0.05);
      for (let at = first + 4800; at < first + 1.5 * 48000; at += 480) {
        let sum = 0;
        for (let i = at; i < at + 480; ++i) sum += all[i] ** 2;
        steady.push(Math.sqrt(sum / 480));
      }
      const tail = flat(kept.slice(-40));
      return { playing, ended, stopped, jump, notes, least: Math.min(...steady), most: Math.max(...steady), tail: Math.max(...tail.map(Math.abs)) };
    },
    [listings, shorter, kPlain],
  );
  console.log(`exchanges: level ${found.least.toFixed(3)} to ${found.most.toFixed(3)}, greatest step ${found.jump.toFixed(4)}`);
  check("it plays on", found.playing);
  check("the tone goes on as it was", found.least > 0.8 * found.most, `${found.least} of ${found.most}`);
  check("there is no crack", found.jump < 0.06, String(found.jump));
  check("it stops where the bar is gone, and tells so", found.stopped && found.ended === 1, JSON.stringify(found));
  check("and is silent", found.tail === 0, String(found.tail));
  same("and nothing stays marked", found.notes.at(-1), null);
}

// A bar more before it, a bar made longer, a repeat taken away: the same written bar, its same time,
// as many quarters into it.
async function places(page) {
  const old = listing_of("flute: 6\ntempo: 60\n\n|: 一 二 三 四 :| 五 六 七 六 |=\n");
  const faster = listing_of("flute: 6\ntempo: 120\n\n|: 一 二 三 四 :| 五 六 七 六 |=\n");
  const other = listing_of("flute: 6\ntempo: 60\n\n一 二 三 四 | 五 六 七 六 | 三 - - - |=\n");
  const found = await page.evaluate(
    ([old, faster, other]) => [page.same_place(old, 5.5, old), page.same_place(old, 5.5, faster),
      page.same_place(old, 1.5, other), page.same_place(old, 9, other), page.same_place(old, 5.5, other) ?? null],
    [old, faster, other],
  );
  same("where it goes on", found, [5.5, 2.75, 1.5, 5, null]);
}

// Heard of a text that changes in the bar before: what comes is the new one.
async function new_texts(page) {
  const listings = ["五 五 五 五", "三 - - -"].map((end) =>
    listing_of(`flute: 6\ntempo: 300\n\n五 六 七 六 | 五 六 七 六 | ${end} |=\n`));
  const told = await page.evaluate(
    async ([listings, choices]) => {
      const context = new AudioContext();
      const told = [];
      await new Promise((end) => {
        const player = new page.Player(context, (note) => told.push(note), end);
        player.play(listings[0], choices);
        setTimeout(() => player.exchange(listings[1]), 500);
      });
      await context.close();
      return told;
    },
    [listings, kPlain],
  );
  same("the new end is heard", told.filter((note, i) => note !== told[i - 1]), [0, 1, 2, 3, 4, 5, 6, 7, 8, null]);
}

async function over_and_over(page) {
  const listing = listing_of("flute: 6\ntempo: 240\n\n五 六 ・ 七 |=\n");
  const told = await page.evaluate(
    async ([listing, choices]) => {
      const context = new AudioContext();
      const told = [];
      await new Promise((enough) => {
        const player = new page.Player(context, (note) => {
          told.push(note);
          if (told.length === 7) {
            player.stop();
            enough();
          }
        });
        player.play(listing, choices);
      });
      await context.close();
      return told;
    },
    [listing, { ...kPlain, again: true, bars: { first: 0, last: 0 } }],
  );
  same("over and over, until it is stopped", told, [0, 1, null, 2, 0, 1, null]);
}

// Each mark against the clock: when the loudspeaker has the tone, by the context's own output time
// stamps at that moment.
async function marks(page) {
  const bar = "三 (四 五) (六 七 六) (五 四 三 二)";
  const listing = listing_of(`flute: 6\ntempo: 96\n\n${Array(8).fill(bar).join(" | ")} | ・ 三 ・ ・ |=\n`);
  const found = await page.evaluate(
    async ([listing, choices]) => {
      const context = new AudioContext();
      const told = [];
      await new Promise((end) => {
        const player = new page.Player(
          context,
          (note) => {
            const { contextTime, performanceTime } = context.getOutputTimestamp();
            told.push([note, contextTime + (performance.now() - performanceTime) / 1000 - player.began]);
          },
          () => end(),
        );
        player.play(listing, choices);
      });
      await context.close();
      return told;
    },
    [listing, { ...kPlain, tempo: 1.5 }],
  );
  const wanted = [];
  listing.played.forEach((tone, i) => {
    wanted.push([tone.note, tone.at / 1.5]);
    const next = listing.played[i + 1];
    const end = tone.at + tone.seconds;
    if (!next || next.at - end > 1e-6) wanted.push([null, end / 1.5]);
  });
  same("every note and rest is told once, in order", found.map(([note]) => note), wanted.map(([note]) => note));
  const late = found.map(([, at], i) => (at - (wanted[i]?.[1] ?? Infinity)) * 1000);
  const sorted = late.map(Math.abs).sort((a, b) => a - b);
  const percentile = sorted[Math.ceil(sorted.length * 0.95) - 1];
  console.log(`marks: ${late.length}, 95th percentile ${percentile.toFixed(1)} ms from the sound, the worst ${sorted.at(-1).toFixed(1)} ms`);
  check("95 of 100 within 30 ms", percentile <= 30, String(percentile));
}

await with_page(["sound", "plan", "listing"], async (page) => {
  await page.evaluate(kMeasuring);
  await frequencies(page);
  await gaps(page);
  await clicks(page);
  await ranges(page);
  await stops(page);
  await places(page);
  await new_texts(page);
  await over_and_over(page);
  await exchanges(page);
  await marks(page);
});
finish();
