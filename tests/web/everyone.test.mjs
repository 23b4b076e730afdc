// The page for everyone: screen readers, the keyboard alone, phones, input methods, large letters.
import { describe, it } from "node:test";
import { join } from "node:path";

import { accessibility, assert, open, root, settled, sheet_stands, staged, text_of, type_over } from "./support.mjs";

const stage = staged();

describe("A checker of accessibility finds nothing", () => {
  for (const [locale, colorScheme] of [["en-US", "light"], ["ja-JP", "dark"]]) {
    it(`in ${locale}, ${colorScheme}: every view and dialog`, async () => {
      const { page, context, said } = await open(stage.browser, stage.server.address, { locale, colorScheme });
      assert.deepEqual(await accessibility(page), []);
      for (const view of ["staff", "fingers"]) {
        await page.click(`#tab-${view}`);
        await page.waitForSelector(view === "staff" ? "#staff g.note" : "#fingers [data-note]");
        assert.deepEqual(await accessibility(page), [], view);
      }
      for (const dialog of ["tunes", "bring", "take", "gauge"]) {
        await page.click(`#${dialog}-open`);
        assert.deepEqual(await accessibility(page), [], dialog);
        await page.keyboard.press("Escape");
      }
      await page.setInputFiles("#bring-list input[type=file]", join(root, "examples/scores/mill-stream.musicxml"));
      await page.waitForSelector("#origin table");
      await page.click("#origin .more summary");
      await type_over(page, "flute: 6\n\n二三 四 |=\n");
      await page.waitForSelector("#faults b.error");
      assert.deepEqual(await accessibility(page), [], "faults");
      assert.deepEqual(said, []);
      await context.close();
    });
  }
});

describe("The keyboard alone", () => {
  it("reaches everything in order, is never caught, and is seen where it is", async () => {
    const { page, context } = await open(stage.browser, stage.server.address);
    const passed = [];
    for (let i = 0; i < 40; ++i) {
      await page.keyboard.press("Tab");
      const at = await page.evaluate(() => {
        const one = document.activeElement;
        const style = getComputedStyle(one);
        const editor = one.closest(".cm-editor");
        const seen = style.outlineStyle !== "none" || (editor && getComputedStyle(editor).outlineStyle !== "none");
        return { id: one.id || one.className || one.closest("[id]")?.id, seen };
      });
      // Behind the last comes the browser's own window.
      if (at.id === undefined || at.id === passed[0]) break;
      assert.ok(at.seen, `the focus on ${at.id} is not seen`);
      passed.push(at.id);
    }
    const order = ["tunes-open", "bring-open", "take-open", "language", "flute", "gauge-open", "tidy", "pad-open", "cm-content", "tab-sheet", "sheet-turn", "sheet", "play", "tempo", "from-bar", "click"];
    const places = order.map((id) => passed.findIndex((one) => one === id || String(one).startsWith(`${id} `)));
    assert.ok(places.every((place) => place >= 0), `${passed}`);
    assert.deepEqual(places, [...places].sort((a, b) => a - b), `${passed}`);
    await context.close();
  });

  it("types with the keys on the screen, turns the views, opens and leaves a dialog", async () => {
    const { page, context } = await open(stage.browser, stage.server.address);
    await type_over(page, "flute: 6\nmeter: 4/4\n\n");
    await page.focus("#pad button");
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("Enter");
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("Space");
    assert.match(await text_of(page), /\n一 二$/);
    assert.equal(await page.evaluate(() => document.activeElement.textContent), "二");
    await page.focus("#tab-sheet");
    await page.keyboard.press("ArrowRight");
    assert.equal(await page.getAttribute("#tab-staff", "aria-selected"), "true");
    assert.equal(await page.evaluate(() => document.activeElement.id), "tab-staff");
    await page.focus("#take-open");
    await page.keyboard.press("Enter");
    assert.equal(await page.isVisible("#take-list"), true);
    await page.keyboard.press("Escape");
    assert.equal(await page.isVisible("#take-list"), false);
    assert.equal(await page.evaluate(() => document.activeElement.id), "take-open");
    await context.close();
  });
});

describe("On a phone", () => {
  const phone = { viewport: { width: 360, height: 640 }, hasTouch: true, isMobile: true, locale: "ja-JP" };

  it("the first sight is the tune and its sheet, with nothing beside the edge", async () => {
    const { page, context } = await open(stage.browser, stage.server.address, phone);
    const seen = await page.evaluate(() => {
      const inside = (one) => {
        const { left, right, top, bottom } = one.getBoundingClientRect();
        return left >= 0 && right <= innerWidth && top >= 0 && bottom <= innerHeight;
      };
      const page = document.querySelector("#sheet .page").shadowRoot;
      const view = document.querySelector("#sheet").getBoundingClientRect();
      const sign = page.querySelector('[data-note="0"]').getBoundingClientRect();
      return {
        tune: inside(document.querySelector("#text")),
        play: inside(document.querySelector("#play")),
        sign: sign.top >= view.top && sign.bottom <= view.bottom && sign.left >= view.left && sign.right <= view.right,
        high: view.height,
        wide: document.documentElement.scrollWidth,
      };
    });
    assert.ok(seen.tune && seen.play && seen.sign && seen.high > 150, JSON.stringify(seen));
    assert.equal(seen.wide, 360);
    assert.match(await page.textContent("#text .at-mark"), /三/);
    await context.close();
  });

  it("nothing moves under what is typed, whether it can be read or not", async () => {
    const { page, context } = await open(stage.browser, stage.server.address, phone);
    await type_over(page, "title: Still\nflute: 6\nmeter: 4/4\n\n");
    const tops = new Set();
    const kinds = new Set();
    for (const sign of "一 二 三 四 |\n五 六 七 1 |\n2 3") {
      await page.keyboard.insertText(sign);
      await page.waitForTimeout(20);
      await settled(page);
      const { top, fault, fingers } = await page.evaluate(() => ({
        top: document.querySelector("#sheet").getBoundingClientRect().top,
        fault: document.querySelector("#faults").offsetHeight > 0,
        fingers: document.querySelector("#strip").offsetHeight > 0,
      }));
      tops.add(top);
      kinds.add(fault ? "fault" : "fingers");
      assert.notEqual(fault, fingers);
    }
    assert.deepEqual([...tops].length, 1);
    assert.deepEqual([...kinds].sort(), ["fault", "fingers"]);
    await context.close();
  });

  it("a tap on a sign opens no keyboard, in the text or out of it", async () => {
    const { page, context } = await open(stage.browser, stage.server.address, phone);
    await page.tap("#pad-open");
    await page.tap('#pad button:text-is("五")');
    const focus = () => page.evaluate(() => document.activeElement.closest("#text") !== null);
    assert.equal(await focus(), false);
    assert.match(await text_of(page), /\n五 三 三 五 六/);
    // In the text, with the signs open: the cursor goes where one taps, and no keyboard comes.
    await page.tap("#text .cm-line:nth-child(6)");
    assert.equal(await focus(), true);
    assert.equal(await page.getAttribute("#text .cm-content", "inputmode"), "none");
    await page.tap('#pad button:text-is("・")');
    assert.equal(await page.getAttribute("#text .cm-content", "inputmode"), "none");
    const small = await page.evaluate(() =>
      [...document.querySelectorAll("#pad button, #head button, #tune .row button")]
        .filter((one) => one.offsetParent && (one.offsetWidth < 24 || one.offsetHeight < 24))
        .map((one) => one.textContent),
    );
    assert.deepEqual(small, []);
    await page.tap("#pad-open");
    assert.equal(await page.getAttribute("#text .cm-content", "inputmode"), "text");
    await context.close();
  });
});

describe("Letters of all sizes and ways of typing", () => {
  it("twice the size on a small desk still has everything, by scrolling down", async () => {
    // 1,280 by 800 at 200 % is 640 by 400.
    const { page, context } = await open(stage.browser, stage.server.address, { viewport: { width: 640, height: 400 } });
    assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), 640);
    for (const id of ["text", "sheet", "play", "strip"]) {
      const box = await page.locator(`#${id}`).boundingBox();
      assert.ok(box.height > 20 && box.x >= 0 && box.x + box.width <= 640, id);
      await page.locator(`#${id}`).scrollIntoViewIfNeeded();
    }
    await context.close();
  });

  it("an input method composes signs; nothing is taken before it is done", async () => {
    const { page, context } = await open(stage.browser, stage.server.address);
    await type_over(page, "flute: 6\nmeter: 4/4\n\n");
    const session = await context.newCDPSession(page);
    for (const text of ["s", "さ", "さn", "さん"]) {
      await session.send("Input.imeSetComposition", { text, selectionStart: text.length, selectionEnd: text.length });
    }
    assert.match(await text_of(page), /\nさん$/);
    await session.send("Input.imeSetComposition", { text: "三", selectionStart: 1, selectionEnd: 1 });
    await session.send("Input.insertText", { text: "三" });
    await page.keyboard.type(" - - - |=");
    await sheet_stands(page);
    assert.match(await text_of(page), /\n三 - - - \|=$/);
    await context.close();
  });

  it("who wants no motion sees none", async () => {
    const { page, context } = await open(stage.browser, stage.server.address, { reducedMotion: "reduce" });
    const moving = await page.evaluate(() =>
      [...document.querySelectorAll("*")].filter((one) => {
        const { transitionDuration, animationName } = getComputedStyle(one);
        return (transitionDuration !== "0s" || animationName !== "none") && !one.closest(".cm-editor");
      }).map((one) => one.tagName),
    );
    assert.deepEqual(moving, []);
    await context.close();
  });
});
