import 'server-only';
import type { Actor } from '@/lib/platform/actor';
import type { Tx } from '@/lib/platform/db';
import { say } from '@/lib/platform/words/say';
import { compareInventory, type InventoryFinding, type InventoryResult } from '../inventory';
import { labelOf, placePath } from '../naming';
import { formatPosition } from '../positions';
import { findExpected, findScans, type SessionRow } from '../repo/inventory';
import { findMaterials, type MaterialRow } from '../repo/materials';
import { findInside } from '../repo/units';
import type { CountFinding } from '../wire-inventory';
import { type LoadedTree, loadTree } from './tree';
import { positionOf } from './unit-checks';

export type Count = {
  loaded: LoadedTree;
  unitIds: string[];
  scans: Awaited<ReturnType<typeof findScans>>;
  expectedIn: Map<string, number>;
  result: InventoryResult;
  /** Materials that were read or expected, by id. */
  materials: Map<string, MaterialRow>;
};

const codeOf = (material: MaterialRow): string => material.vial?.code ?? labelOf(material);

/** Holds what was read against the book as it is now. */
export async function holdAgainstBook(tx: Tx, actor: Actor, session: SessionRow): Promise<Count> {
  const loaded = await loadTree(tx, actor.collectionId);
  const unitIds = await findInside(tx, session.unitId);
  const scans = await findScans(tx, session.id);
  const expected = await findExpected(tx, unitIds);
  const materials = new Map(expected.map((material) => [material.id, material]));
  const others = scans.flatMap(({ materialId }) =>
    materialId !== null && !materials.has(materialId) ? materialId : [],
  );
  for (const material of await findMaterials(tx, actor.collectionId, [...new Set(others)])) {
    materials.set(material.id, material);
  }
  const expectedIds = new Set(expected.map((material) => material.id));
  const indexOf = (unitId: string, position: string | null) => {
    const grid = loaded.wire.get(unitId)?.grid ?? null;
    return grid === null ? null : (positionOf(grid, position)[0] ?? null);
  };
  const result = compareInventory(
    expected.map((material) => ({
      materialId: material.id,
      code: codeOf(material),
      unitId: material.placement?.unitId ?? '',
      position: indexOf(material.placement?.unitId ?? '', material.placement?.position ?? null),
    })),
    scans.map((scan) => {
      const material = scan.materialId === null ? undefined : materials.get(scan.materialId);
      return {
        ...scan,
        code: material === undefined ? scan.code : codeOf(material),
        position: indexOf(scan.unitId, scan.position),
        scannedAt: scan.scannedAt.toISOString(),
      };
    }),
    new Map(
      [...materials.values()].flatMap((material) =>
        expectedIds.has(material.id)
          ? []
          : [[codeOf(material), { materialId: material.id, placeName: bookOf(material) }] as const],
      ),
    ),
    session.closedAt !== null,
  );
  const expectedIn = new Map<string, number>();
  for (const { placement } of expected) {
    if (placement !== null) expectedIn.set(placement.unitId, (expectedIn.get(placement.unitId) ?? 0) + 1);
  }
  return { loaded, unitIds, scans, expectedIn, result, materials };
}

/** Where the book has a material that should not be here, or what it says of it. */
function bookOf(material: MaterialRow): string {
  if (material.custody === 'on-loan')
    return say('out on loan {number}', { number: material.loanLines[0]?.loan.number ?? '' }).trim();
  if (material.custody !== 'on-shelf') return material.custody.replace('-', ' ');
  return placePath(material.placement) ?? say('without a place');
}

/** A finding as the page shows it: labels and places in words. */
export function sayFinding(count: Count, finding: InventoryFinding): CountFinding {
  const label = (materialId: string | null, code: string) => {
    const material = materialId === null ? undefined : count.materials.get(materialId);
    return material === undefined ? code : labelOf(material);
  };
  const spot = ({ unitId, position }: { unitId: string; position: number | null }) => ({
    unitId,
    place: sayPlace(count.loaded, unitId, position),
  });
  switch (finding.kind) {
    case 'missing':
      return {
        kind: finding.kind,
        materialId: finding.materialId,
        label: label(finding.materialId, finding.code),
        expected: spot(finding.expected),
      };
    case 'misplaced':
      return {
        kind: finding.kind,
        materialId: finding.materialId,
        label: label(finding.materialId, finding.code),
        expected: spot(finding.expected),
        found: spot(finding.found),
      };
    case 'unexpected': {
      const custody = count.materials.get(finding.materialId ?? '')?.custody;
      return {
        kind: finding.kind,
        materialId: finding.materialId,
        label: label(finding.materialId, finding.code),
        found: spot(finding.found),
        book: finding.bookPlace,
        mayRecord: custody === 'on-shelf' || custody === 'missing',
      };
    }
    case 'two-in-one-position':
      return { kind: finding.kind, labels: finding.codes, found: spot(finding.found) };
  }
}

export function sayPlace({ wire }: LoadedTree, unitId: string, position: number | null): string {
  const unit = wire.get(unitId);
  if (unit === undefined) return say('a place that is gone');
  return position === null || unit.grid === null
    ? unit.path
    : `${unit.path} › ${formatPosition(unit.grid, position)}`;
}
