import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';

/** Optional published files the reference tests compare with; absent on most machines, then those tests skip. */
const root = process.env.FURCULA_REFERENCE_DIR ?? join(process.cwd(), '..', 'shared');

export function referencePath(...parts: string[]): string {
  return join(root, ...parts);
}

export function hasReference(...parts: string[]): boolean {
  return existsSync(referencePath(...parts));
}

export function readReference(...parts: string[]): string {
  return readFileSync(referencePath(...parts), 'utf8');
}

/** Rows of a reference CSV as records; empty when the file is absent. */
export function readReferenceRows(...parts: string[]): Record<string, string>[] {
  if (!hasReference(...parts)) return [];
  const relaxed = parts.at(-1)?.endsWith('.tsv') ? { delimiter: '\t', quote: null } : {};
  return parse(readReference(...parts), { columns: true, bom: true, ...relaxed }) as Record<string, string>[];
}
