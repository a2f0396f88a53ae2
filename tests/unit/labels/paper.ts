import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { PDFiumLibrary } from '@hyzyla/pdfium';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import type { LabelStock } from '@/lib/labels/schema';

const wasm = fileURLToPath(
  new URL('../../../node_modules/zxing-wasm/dist/reader/zxing_reader.wasm', import.meta.url),
);
const wasmBinary = readFileSync(wasm);
// Its default is to fetch the decoder from the network.
prepareZXingModule({ overrides: { wasmBinary: new Uint8Array(wasmBinary).buffer } });

export type Paper = {
  widthMm: number;
  heightMm: number;
  widthPx: number;
  heightPx: number;
  /** 0 black to 255 white, row by row. */
  grey: Uint8Array;
  text: string;
};

const library = PDFiumLibrary.init();

/** Renders every page of a PDF to grey pixels with PDFium. */
export async function rasterise(pdf: Uint8Array, dpi: number): Promise<Paper[]> {
  const document = await (await library).loadDocument(pdf);
  try {
    const papers: Paper[] = [];
    for (const page of document.pages()) {
      const { originalWidth, originalHeight } = page.getOriginalSize();
      const text = page.getText();
      // Whole points times a scale would squeeze the page; whole pixels do not.
      const widthPx = Math.round((originalWidth * dpi) / 72);
      const heightPx = Math.round((originalHeight * dpi) / 72);
      const { data } = await page.render({
        scale: 1,
        width: widthPx,
        height: heightPx,
        render: 'bitmap',
        colorSpace: 'Gray',
      });
      papers.push({
        widthMm: (originalWidth * 25.4) / 72,
        heightMm: (originalHeight * 25.4) / 72,
        widthPx,
        heightPx,
        grey: Uint8Array.from(data),
        text,
      });
    }
    return papers;
  } finally {
    document.destroy();
  }
}

export type Area = { xMm: number; yMm: number; widthMm: number; heightMm: number };

/** A part of the page in pixels, clipped to the page. */
function toPixels(paper: Paper, area: Area) {
  const perMm = paper.widthPx / paper.widthMm;
  return {
    perMm,
    left: Math.max(0, Math.round(area.xMm * perMm)),
    top: Math.max(0, Math.round(area.yMm * perMm)),
    right: Math.min(paper.widthPx, Math.round((area.xMm + area.widthMm) * perMm)),
    bottom: Math.min(paper.heightPx, Math.round((area.yMm + area.heightMm) * perMm)),
  };
}

/** Where label n (from 1) of a stock lies on its page. */
export function labelArea(stock: LabelStock, n: number): Area {
  const column = (n - 1) % stock.columns;
  const row = Math.floor((n - 1) / stock.columns);
  return {
    xMm: stock.marginLeftMm + column * (stock.label.widthMm + stock.gapXMm),
    yMm: stock.marginTopMm + row * (stock.label.heightMm + stock.gapYMm),
    ...stock.label,
  };
}

/** Reads every code in a part of a page with the independent decoder. */
export async function readCodes(paper: Paper, area: Area): Promise<{ format: string; text: string }[]> {
  const { left, top, right, bottom } = toPixels(paper, area);
  // A scanner sees paper around a label too.
  const rim = 20;
  const width = right - left + 2 * rim;
  const height = bottom - top + 2 * rim;
  const data = new Uint8ClampedArray(width * height * 4).fill(255);
  for (let y = top; y < bottom; y += 1) {
    for (let x = left; x < right; x += 1) {
      const at = ((y - top + rim) * width + (x - left + rim)) * 4;
      data.fill(paper.grey[y * paper.widthPx + x] ?? 255, at, at + 3);
    }
  }
  const image = { data, width, height, colorSpace: 'srgb' as const };
  const results = await readBarcodes(image, { formats: ['DataMatrix', 'QRCode', 'Code128'] });
  return results.filter((result) => result.isValid).map(({ format, text }) => ({ format, text }));
}

/** Box around everything darker than half grey inside a part of the page, in mm. */
export function findInk(paper: Paper, area: Area) {
  const { perMm, left, top, right, bottom } = toPixels(paper, area);
  let [minX, minY, maxX, maxY] = [right, bottom, left, top];
  for (let y = top; y < bottom; y += 1) {
    for (let x = left; x < right; x += 1) {
      if ((paper.grey[y * paper.widthPx + x] ?? 255) > 127) continue;
      minX = Math.min(minX, x);
      minY = Math.min(minY, y);
      maxX = Math.max(maxX, x + 1);
      maxY = Math.max(maxY, y + 1);
    }
  }
  return { leftMm: minX / perMm, topMm: minY / perMm, rightMm: maxX / perMm, bottomMm: maxY / perMm };
}
