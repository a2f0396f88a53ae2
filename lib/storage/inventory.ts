import type { InventoryScan } from './schema';

/** What the book says before the count: everything in the scope of the session. */
export type ExpectedMaterial = {
  materialId: string;
  code: string;
  unitId: string;
  position: number | null;
};

/** What the book knows of codes outside the scope: where they should be. */
export type KnownElsewhere = ReadonlyMap<string, { materialId: string; placeName: string }>;

type Spot = { unitId: string; position: number | null };

export type InventoryFinding =
  | { kind: 'missing'; materialId: string; code: string; expected: Spot; resolution: 'mark-missing' }
  | {
      kind: 'misplaced';
      materialId: string;
      code: string;
      expected: Spot;
      found: Spot;
      resolution: 'record-where-found';
    }
  | {
      kind: 'unexpected';
      /** null: nobody knows this code. */
      materialId: string | null;
      code: string;
      found: Spot;
      /** Where the book has it, in words; null if the code is unknown. */
      bookPlace: string | null;
      resolution: 'record-where-found' | 'find-out-what-it-is';
    }
  | {
      kind: 'two-in-one-position';
      codes: string[];
      found: Spot;
      resolution: 'scan-again';
    };

export type InventoryResult = {
  confirmed: number;
  /** Of the expected, how many have been seen anywhere. */
  seen: number;
  expected: number;
  findings: InventoryFinding[];
};

const compareScans = (a: InventoryScan, b: InventoryScan) =>
  Date.parse(a.scannedAt) - Date.parse(b.scannedAt) || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);

/**
 * The scans of several people or devices as one list: each scan once by its id, in order of time. The order in
 * which they arrive, and arriving twice, make no difference, so a session can be left and taken up again.
 */
export function mergeScans(...lists: readonly (readonly InventoryScan[])[]): InventoryScan[] {
  const byId = new Map<string, InventoryScan>();
  for (const scan of lists.flat()) byId.set(scan.id, scan);
  return [...byId.values()].sort(compareScans);
}

/**
 * Holds a count against the book. The last scan of a code tells where it is.
 * @param isFinished while a session runs, what was not scanned yet is not called missing
 * @throws when two expected materials carry the same code: the book itself must be put right first
 */
export function compareInventory(
  expected: readonly ExpectedMaterial[],
  scans: readonly InventoryScan[],
  elsewhere: KnownElsewhere,
  isFinished: boolean,
): InventoryResult {
  const byCode = new Map<string, ExpectedMaterial>();
  for (const material of expected) {
    if (byCode.has(material.code)) throw new Error(`Two materials carry the code ${material.code}.`);
    byCode.set(material.code, material);
  }
  const lastByCode = new Map<string, InventoryScan>();
  for (const scan of mergeScans(scans)) lastByCode.set(scan.code, scan);

  const findings: InventoryFinding[] = [];
  let confirmed = 0;
  let seen = 0;
  for (const material of expected) {
    const scan = lastByCode.get(material.code);
    const { materialId, code, unitId, position } = material;
    if (scan) seen += 1;
    if (scan && scan.unitId === unitId && agrees(scan.position, position)) confirmed += 1;
    else if (scan) {
      const found = { unitId: scan.unitId, position: scan.position };
      const resolution = 'record-where-found';
      findings.push({
        kind: 'misplaced',
        materialId,
        code,
        expected: { unitId, position },
        found,
        resolution,
      });
    } else if (isFinished) {
      findings.push({
        kind: 'missing',
        materialId,
        code,
        expected: { unitId, position },
        resolution: 'mark-missing',
      });
    }
  }
  for (const scan of lastByCode.values()) {
    if (byCode.has(scan.code)) continue;
    const known = elsewhere.get(scan.code);
    findings.push({
      kind: 'unexpected',
      materialId: known?.materialId ?? null,
      code: scan.code,
      found: { unitId: scan.unitId, position: scan.position },
      bookPlace: known?.placeName ?? null,
      resolution: known ? 'record-where-found' : 'find-out-what-it-is',
    });
  }
  findings.push(...findSharedPositions(lastByCode.values()));
  return { confirmed, seen, expected: expected.length, findings };
}

/** A scan without a position (only the box was scanned) agrees with any position in that box. */
function agrees(scanned: number | null, booked: number | null): boolean {
  return scanned === null || scanned === booked;
}

function findSharedPositions(scans: Iterable<InventoryScan>): InventoryFinding[] {
  const bySpot = new Map<string, InventoryScan[]>();
  for (const scan of scans) {
    if (scan.position === null) continue;
    const key = `${scan.unitId}#${scan.position}`;
    bySpot.set(key, [...(bySpot.get(key) ?? []), scan]);
  }
  return [...bySpot.values()].flatMap((here) => {
    const first = here[0];
    if (here.length < 2 || !first) return [];
    return [
      {
        kind: 'two-in-one-position' as const,
        codes: here.map((scan) => scan.code).sort(),
        found: { unitId: first.unitId, position: first.position },
        resolution: 'scan-again' as const,
      },
    ];
  });
}
