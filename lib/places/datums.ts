/** Names of datums as they are written, to the EPSG code of their geographic system. */
const DATUM_CODES: Record<string, string> = {
  wgs84: 'EPSG:4326',
  wgs1984: 'EPSG:4326',
  worldgeodeticsystem1984: 'EPSG:4326',
  nad83: 'EPSG:4269',
  nad1983: 'EPSG:4269',
  northamericandatum1983: 'EPSG:4269',
  nad27: 'EPSG:4267',
  nad1927: 'EPSG:4267',
  northamericandatum1927: 'EPSG:4267',
  ed50: 'EPSG:4230',
  europeandatum1950: 'EPSG:4230',
  notrecorded: 'not recorded',
  unknown: 'not recorded',
  unk: 'not recorded',
};

/** The code of a datum as written, "not recorded" where that is said; null for a name not known here. */
export function standardiseDatum(written: string): string | null {
  const text = written.trim();
  const code = /^epsg:? ?(\d{4,5})$/i.exec(text);
  if (code) return `EPSG:${code[1]}`;
  return DATUM_CODES[text.toLowerCase().replace(/[^a-z0-9]/g, '')] ?? null;
}
