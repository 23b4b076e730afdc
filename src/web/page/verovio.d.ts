// What is used of the staff engraver; its package has no types.
declare module "verovio/wasm" {
  export default function createVerovioModule(): Promise<object>;
}
declare module "verovio/esm" {
  export const LOG_ERROR: number;
  export function enableLog(level: number, module: object): void;
  export class VerovioToolkit {
    constructor(module: object);
    setOptions(options: Record<string, unknown>): void;
    loadData(xml: string): boolean;
    getPageCount(): number;
    renderToSVG(page: number): string;
    getVersion(): string;
  }
}
