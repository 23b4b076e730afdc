// The staff engraver in a worker of its own: the MusicXML of the program in, strips of systems out.
import createVerovioModule from "verovio/wasm";
import { enableLog, LOG_ERROR, VerovioToolkit } from "verovio/esm";

export interface Wanted {
  id: number;
  xml: string;
  /** Of the view, in pixels. */
  width: number;
  /** The strip to begin with, as it is the one that is seen. */
  first: number;
}
export interface Strip {
  id: number;
  strip: number;
  strips: number;
  svg: string;
}

const here = self as unknown as {
  onmessage: (event: MessageEvent<Wanted>) => void;
  postMessage(value: Strip | { id: number; failure: string }): void;
};

const kScale = 42;
let newest = 0;
const ready = createVerovioModule().then((module) => {
  // How close the engraver had to set things is no news for a player.
  enableLog(LOG_ERROR, module);
  return new VerovioToolkit(module);
});

here.onmessage = async ({ data }) => {
  newest = data.id;
  try {
    const toolkit = await ready;
    // What came in while others were drawn may be of no more use.
    await breath();
    if (data.id !== newest) return;
    toolkit.setOptions({
      scale: kScale,
      pageWidth: Math.round((data.width * 100) / kScale),
      pageHeight: 900,
      pageMarginLeft: 20,
      pageMarginRight: 20,
      pageMarginTop: 20,
      pageMarginBottom: 20,
      adjustPageHeight: true,
      svgViewBox: true,
      breaks: "auto",
      header: "none",
      footer: "none",
    });
    if (!toolkit.loadData(data.xml)) throw new Error("MusicXML");
    const strips = toolkit.getPageCount();
    const first = Math.min(data.first, strips - 1);
    const order = [...Array(strips).keys()].sort((a, b) => Math.abs(a - first) - Math.abs(b - first));
    for (const strip of order) {
      if (data.id !== newest) return;
      here.postMessage({ id: data.id, strip, strips, svg: toolkit.renderToSVG(strip + 1) });
      await breath();
    }
  } catch (error) {
    here.postMessage({ id: data.id, failure: error instanceof Error ? error.message : String(error) });
  }
};

/** Lets a message in that came meanwhile. */
function breath(): Promise<void> {
  return new Promise((go_on) => setTimeout(go_on));
}
