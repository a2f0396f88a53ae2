import { type LabelStock, labelStockSchema } from './schema';

const a4 = { widthMm: 210, heightMm: 297 };
const letter = { widthMm: 215.9, heightMm: 279.4 };

function roll(id: string, name: string, widthMm: number, heightMm: number, isRound = false): LabelStock {
  return labelStockSchema.parse({
    id,
    name,
    form: 'roll',
    page: { widthMm, heightMm },
    label: { widthMm, heightMm, isRound },
    columns: 1,
    rows: 1,
    marginLeftMm: 0,
    marginTopMm: 0,
    gapXMm: 0,
    gapYMm: 0,
  });
}

/** Stock that ships with Furcula; an institution adds its own in the same form. */
export const labelStocks: readonly LabelStock[] = [
  ...[
    {
      id: 'a4-tags-90x40',
      name: 'A4, folded specimen tags 90 × 40 mm, to cut',
      form: 'sheet',
      page: a4,
      label: { widthMm: 90, heightMm: 40 },
      columns: 2,
      rows: 7,
      marginLeftMm: 15,
      marginTopMm: 8.5,
      gapXMm: 0,
      gapYMm: 0,
      hasCutLines: true,
    },
    {
      id: 'letter-tags-90x40',
      name: 'Letter, folded specimen tags 90 × 40 mm, to cut',
      form: 'sheet',
      page: letter,
      label: { widthMm: 90, heightMm: 40 },
      columns: 2,
      rows: 6,
      marginLeftMm: 17.95,
      marginTopMm: 19.7,
      gapXMm: 0,
      gapYMm: 0,
      hasCutLines: true,
    },
    {
      id: 'a4-box-99x57',
      name: 'A4, box labels 99.1 × 57 mm',
      form: 'sheet',
      page: a4,
      label: { widthMm: 99.1, heightMm: 57 },
      columns: 2,
      rows: 5,
      marginLeftMm: 4.65,
      marginTopMm: 6,
      gapXMm: 2.5,
      gapYMm: 0,
    },
    {
      id: 'letter-storage-66x25',
      name: 'Letter, labels 66.7 × 25.4 mm',
      form: 'sheet',
      page: letter,
      label: { widthMm: 66.675, heightMm: 25.4 },
      columns: 3,
      rows: 10,
      marginLeftMm: 4.7625,
      marginTopMm: 12.7,
      gapXMm: 3.175,
      gapYMm: 0,
    },
    {
      id: 'letter-vials-33x13',
      name: 'Letter, vial labels 33 × 13 mm',
      form: 'sheet',
      page: letter,
      label: { widthMm: 33, heightMm: 13 },
      columns: 5,
      rows: 17,
      marginLeftMm: 15.45,
      marginTopMm: 11.6,
      gapXMm: 5,
      gapYMm: 2.2,
    },
    {
      id: 'a4-slips-210x148',
      name: 'A4, two slips of 210 × 148.5 mm, to cut',
      form: 'sheet',
      page: a4,
      label: { widthMm: 210, heightMm: 148.5 },
      columns: 1,
      rows: 2,
      marginLeftMm: 0,
      marginTopMm: 0,
      gapXMm: 0,
      gapYMm: 0,
      hasCutLines: true,
    },
  ].map((stock) => labelStockSchema.parse(stock)),
  roll('roll-33x13', 'Roll, vial labels 33 × 13 mm', 33, 13),
  roll('roll-cap-11', 'Roll, round cap labels 11 mm', 11, 11, true),
  roll('roll-100x50', 'Roll, bag and box labels 100 × 50 mm', 100, 50),
  roll('roll-80x30', 'Roll, storage labels 80 × 30 mm', 80, 30),
];

/** Throws on an id that no stock has. */
export function getLabelStock(id: string): LabelStock {
  const stock = labelStocks.find((candidate) => candidate.id === id);
  if (!stock) throw new Error(`There is no label stock ${id}.`);
  return stock;
}
