import { ZipFile } from 'yazl';

interface WorkbookParts {
  /** Rows of cell XML, e.g. `<c r="A1" t="inlineStr"><is><t>Sex</t></is></c>`. */
  rows: string[];
  afterRows?: string;
  bookProperties?: string;
  extra?: Record<string, string>;
  leaveOut?: string[];
}

const HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>';
const MAIN = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"';
const REL = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
const PACKAGE = 'http://schemas.openxmlformats.org/package/2006';

/** Text, number, or a day number in a date style. */
export function cell(
  reference: string,
  value: string | number,
  kind: 'text' | 'number' | 'date' = typeof value === 'number' ? 'number' : 'text',
): string {
  if (kind === 'text') {
    const safe = String(value).replaceAll('&', '&amp;').replaceAll('<', '&lt;');
    return `<c r="${reference}" t="inlineStr"><is><t xml:space="preserve">${safe}</t></is></c>`;
  }
  return `<c r="${reference}"${kind === 'date' ? ' s="1"' : ''}><v>${value}</v></c>`;
}

export function zipOf(files: Record<string, string | Buffer>): Promise<Buffer> {
  const zip = new ZipFile();
  for (const [name, content] of Object.entries(files))
    zip.addBuffer(Buffer.from(content), name, { mtime: new Date(2026, 0, 1) });
  zip.end();
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = [];
    zip.outputStream.on('data', (chunk: Buffer) => chunks.push(chunk)).on('error', reject);
    zip.outputStream.on('end', () => resolve(Buffer.concat(chunks)));
  });
}

/** The smallest workbook (ECMA-376) with one sheet, written by hand so that odd ones can be made. */
export function workbookOf(parts: WorkbookParts): Promise<Buffer> {
  const rows = parts.rows.map((cells, index) => `<row r="${index + 1}">${cells}</row>`).join('');
  const files: Record<string, string> = {
    '[Content_Types].xml': `${HEAD}<Types xmlns="${PACKAGE}/content-types"><Default Extension="xml" ContentType="application/xml"/><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/><Override PartName="/xl/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"/></Types>`,
    '_rels/.rels': `${HEAD}<Relationships xmlns="${PACKAGE}/relationships"><Relationship Id="rId1" Type="${REL}/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
    'xl/workbook.xml': `${HEAD}<workbook ${MAIN} xmlns:r="${REL}">${parts.bookProperties ?? ''}<sheets><sheet name="Birds" sheetId="1" r:id="rId1"/></sheets></workbook>`,
    'xl/_rels/workbook.xml.rels': `${HEAD}<Relationships xmlns="${PACKAGE}/relationships"><Relationship Id="rId1" Type="${REL}/worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Type="${REL}/styles" Target="styles.xml"/></Relationships>`,
    'xl/styles.xml': `${HEAD}<styleSheet ${MAIN}><cellXfs count="2"><xf numFmtId="0"/><xf numFmtId="14" applyNumberFormat="1"/></cellXfs></styleSheet>`,
    'xl/worksheets/sheet1.xml': `${HEAD}<worksheet ${MAIN}><sheetData>${rows}</sheetData>${parts.afterRows ?? ''}</worksheet>`,
    ...parts.extra,
  };
  for (const name of parts.leaveOut ?? []) delete files[name];
  return zipOf(files);
}
