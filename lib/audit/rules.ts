import { createHash } from 'node:crypto';
import type { ChainAnchor, ChainVerdict } from './schema';

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

/** With the separator inside a text, words could change their column under the same digest; the database takes none. */
const hidesSeparator = ({ actorName, subjectType, kind, reason, requestId }: ChainRow): boolean =>
  [actorName, subjectType, kind, reason, requestId].some((text) => text?.includes(SEPARATOR));

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
  private readonly awaited: ChainAnchor[];

  /** @param anchors where this chain once stood, as something outside the chain remembers it. */
  constructor(anchors: readonly ChainAnchor[] = []) {
    this.awaited = [...anchors].filter(({ seq }) => seq > 0).sort((a, b) => a.seq - b.seq);
  }

  feed(row: ChainRow): void {
    this.rows += 1;
    if (this.firstBad !== null) return;
    const why = this.fault(row) ?? this.strangeToAnchors(row);
    if (why !== null) this.firstBad = { seq: row.seq, why };
    this.last = row.digest;
  }

  private fault(row: ChainRow): string | null {
    if (row.seq !== this.rows) return `expected number ${this.rows}: a row is missing, added or moved here`;
    if (row.previousDigest !== this.last) return 'does not follow the row before it';
    if (hidesSeparator(row)) return 'a text in it holds the separator of the digest: it was edited';
    if (row.digest !== digestOf(row)) return 'its content does not give its digest: it was edited';
    return null;
  }

  /** Whoever makes all digests anew has a chain that is whole in itself: only a memory outside tells. */
  private strangeToAnchors(row: ChainRow): string | null {
    let why: string | null = null;
    while (this.awaited[0]?.seq === row.seq) {
      const anchor = this.awaited.shift();
      if (anchor !== undefined && anchor.digest !== row.digest)
        why ??= `its digest is not the one that ${anchor.source} keeps: the chain was written anew up to here`;
    }
    return why;
  }

  /** @param head what the database keeps as the end of the chain: a cut tail shows here. */
  verdict(collectionId: string, head: { seq: number; digest: string }): ChainVerdict {
    const firstBad = this.firstBad ?? this.endFault(head);
    return { collectionId, rows: this.rows, head: head.digest, ok: firstBad === null, firstBad };
  }

  private endFault(head: { seq: number; digest: string }): ChainVerdict['firstBad'] {
    const seq = this.rows + 1;
    if (head.seq !== this.rows || head.digest !== this.last)
      return { seq, why: `the chain ends at ${this.rows} but its head is ${head.seq}: the tail was cut` };
    const [anchor] = this.awaited;
    if (anchor === undefined) return null;
    const why = `the chain ends at ${this.rows} but ${anchor.source} keeps number ${anchor.seq}: the tail was cut`;
    return { seq, why };
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
