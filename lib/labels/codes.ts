import bwipjs from 'bwip-js/node';
import type { CodeElement, Symbology } from './schema';

/** A dark rectangle in modules; a linear code is one module high. */
export type CodeRect = { x: number; y: number; width: number; height: number };
export type EncodedCode = { widthModules: number; heightModules: number; rects: CodeRect[] };

/** Clear space on each side, in modules, as the symbologies ask (ISO/IEC 16022, 18004, 15417). */
export const quietModules: Record<Symbology, number> = { 'data-matrix': 1, qr: 4, 'code-128': 10 };

const encoders: Record<Symbology, { bcid: string; eclevel?: string }> = {
  'data-matrix': { bcid: 'datamatrix' },
  qr: { bcid: 'qrcode', eclevel: 'M' },
  'code-128': { bcid: 'code128' },
};

type RawMatrix = { pixs: number[]; pixx: number; pixy: number };
type RawBars = { sbs: number[] };

/** Encodes printable ASCII into dark rectangles. Throws on other signs: scanners type codes as keyboards do. */
export function encodeCode(symbology: Symbology, content: string): EncodedCode {
  if (!/^[\x20-\x7e]+$/.test(content)) {
    throw new RangeError(`"${content}" cannot be a code: plain letters, figures and signs only.`);
  }
  // The published types describe the other entry points only; the shapes are checked below.
  const raw = bwipjs.raw as unknown as (options: object) => (Partial<RawMatrix> & Partial<RawBars>)[];
  const [symbol] = raw({ ...encoders[symbology], text: content });
  if (symbol?.pixs && symbol.pixx && symbol.pixy) {
    const { pixs, pixx, pixy } = symbol;
    return { widthModules: pixx, heightModules: pixy, rects: mergeRows(pixs, pixx, pixy) };
  }
  if (symbol?.sbs) return placeBars(symbol.sbs);
  throw new Error(`The encoder gave no ${symbology} symbol.`);
}

/** Neighbouring dark modules of a row become one rectangle. */
function mergeRows(pixels: number[], width: number, height: number): CodeRect[] {
  const rects: CodeRect[] = [];
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      if (pixels[y * width + x] !== 1) continue;
      const start = x;
      while (x < width && pixels[y * width + x] === 1) x += 1;
      rects.push({ x: start, y, width: x - start, height: 1 });
    }
  }
  return rects;
}

/** Widths of bar, space, bar… */
function placeBars(widths: number[]): EncodedCode {
  const rects: CodeRect[] = [];
  let x = 0;
  for (const [index, width] of widths.entries()) {
    if (index % 2 === 0) rects.push({ x, y: 0, width, height: 1 });
    x += width;
  }
  return { widthModules: x, heightModules: 1, rects };
}

export type FittedCode = {
  moduleMm: number;
  rects: { xMm: number; yMm: number; widthMm: number; heightMm: number }[];
};

/** Places a code in the middle of its box with its quiet zone, or says why it would not scan. */
export function fitCode(element: CodeElement): FittedCode | { message: string } {
  let code: EncodedCode;
  try {
    code = encodeCode(element.symbology, element.content);
  } catch (error) {
    if (error instanceof RangeError) return { message: error.message };
    throw error;
  }
  const quiet = quietModules[element.symbology];
  const isLinear = code.heightModules === 1;
  const wide = code.widthModules + 2 * quiet;
  const high = code.heightModules + 2 * quiet;
  const fits = isLinear ? element.widthMm / wide : Math.min(element.widthMm / wide, element.heightMm / high);
  const moduleMm = Math.min(fits, element.mostModuleMm);
  if (moduleMm < element.leastModuleMm - 1e-9) {
    return {
      message:
        `"${element.content}" would need modules of ${moduleMm.toFixed(2)} mm; ` +
        `${element.leastModuleMm} mm is the least that scans. Shorten it or choose a larger label.`,
    };
  }
  const rowMm = isLinear ? element.heightMm : moduleMm;
  const left = element.xMm + (element.widthMm - code.widthModules * moduleMm) / 2;
  const top = isLinear ? element.yMm : element.yMm + (element.heightMm - code.heightModules * moduleMm) / 2;
  return {
    moduleMm,
    rects: code.rects.map(({ x, y, width, height }) => ({
      xMm: left + x * moduleMm,
      yMm: top + y * rowMm,
      widthMm: width * moduleMm,
      heightMm: height * rowMm,
    })),
  };
}
