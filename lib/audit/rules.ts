import { createHash } from 'node:crypto';
import type { ChainVerdict } from './schema';

/** A row of the audit table as text, in the form its digest is made of. */
export type ChainRow = {
  seq: number;
  collectionId: string;
  at: string;
  actorId: string | null;
  actorName: string;
  birdId: string | null;
  subjectType: string;
  subjectId: string;
  kind: string;
  payloadText: string;
  reason: string | null;
  requestId: string | null;
  previousDigest: string;
  digest: string;
};

const SEPARATOR = '\u001f';

/** The sha-256 of a row, computed here again, independently of the database's own function. */
export function digestOf(row: ChainRow): string {
  const parts = [
    String(row.seq),
    row.collectionId,
    row.at,
    row.actorId ?? '',
    row.actorName,
    row.birdId ?? '',
    row.subjectType,
    row.subjectId,
    row.kind,
    row.payloadText,
    row.reason ?? '',
    row.requestId ?? '',
    row.previousDigest,
  ];
  return createHash('sha256').update(parts.join(SEPARATOR), 'utf8').digest('hex');
}

/** Walks a chain row by row; feed rows in order of seq, then ask for the verdict against the kept head. */
export class ChainWalk {
  private rows = 0;
  private last = '';
  private firstBad: ChainVerdict['firstBad'] = null;

  feed(row: ChainRow): void {
    this.rows += 1;
    if (this.firstBad !== null) return;
    const why = this.fault(row);
    if (why !== null) this.firstBad = { seq: row.seq, why };
    this.last = row.digest;
  }

  private fault(row: ChainRow): string | null {
    if (row.seq !== this.rows) return `expected number ${this.rows}: a row is missing, added or moved here`;
    if (row.previousDigest !== this.last) return 'does not follow the row before it';
    if (row.digest !== digestOf(row)) return 'its content does not give its digest: it was edited';
    return null;
  }

  /** @param head what the database keeps as the end of the chain: a cut tail shows here. */
  verdict(collectionId: string, head: { seq: number; digest: string }): ChainVerdict {
    const cut = head.seq !== this.rows || head.digest !== this.last;
    const firstBad =
      this.firstBad ??
      (cut
        ? {
            seq: this.rows + 1,
            why: `the chain ends at ${this.rows} but its head is ${head.seq}: the tail was cut`,
          }
        : null);
    return { collectionId, rows: this.rows, head: head.digest, ok: firstBad === null, firstBad };
  }
}

const EXACT_PLACE = new Set(['latitude', 'longitude', 'verbatimCoordinates', 'locality', 'uncertaintyM']);
const WITHHELD = 'withheld';

/** A payload without exact places, at any depth, for readers who may not see them. */
export function withoutExactPlaces(payload: unknown): unknown {
  if (Array.isArray(payload)) return payload.map(withoutExactPlaces);
  if (payload === null || typeof payload !== 'object') return payload;
  return Object.fromEntries(
    Object.entries(payload).map(([key, value]) => [
      key,
      EXACT_PLACE.has(key) ? WITHHELD : withoutExactPlaces(value),
    ]),
  );
}
