import 'server-only';
import { conflict, notFound, notValid } from '@/lib/platform/errors';
import type { Work } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { preservationOf } from './keeping';
import { labelOf, placePath } from './naming';
import { emptyOccupancy, type Occupancy, placeMaterial, positionKey } from './occupancy';
import { formatPosition, parsePosition } from './positions';
import { type Destination, findHolder, type MaterialRow } from './repo/materials';
import { countInside, findUnitWithAround, toUnits } from './repo/units';
import { buildStorageTree, resolveConditions } from './rules';
import type { MaterialPlace, StorageUnit } from './schema';

export type Place = Destination & { targetTemperatureC: number | null };

/**
 * The place a person asked for, if the material may go there: the unit exists and is in use, the position exists and
 * is free, there is room, and the place keeps it as it must be kept.
 * @throws AppError conflict when it is taken, full, or the material is away; not-valid for every other reason
 */
export async function choosePlace(
  work: Work,
  material: MaterialRow,
  to: { unitId: string; position?: string | null },
): Promise<Place> {
  const rows = await findUnitWithAround(work.db, work.actor.collectionId, to.unitId);
  const row = rows.at(-1);
  if (row === undefined) throw notFound(say('This place in the store'));
  if (!row.active) throw refused('unitId', say('{name} is no longer in use.', { name: row.name }));
  const tree = buildStorageTree(toUnits(rows));
  const unit = tree.get(row.id);
  if (unit === undefined) throw notFound(say('This place in the store'));

  const position = readPosition(unit, to.position ?? null);
  const positionName = unit.grid === null || position === null ? null : formatPosition(unit.grid, position);
  const occupancy = await seeOccupancy(work, material, unit, position, positionName);
  const kept = {
    kind: material.kind,
    state: material.state,
    preservation: material.vial?.preservation ?? null,
  };
  const verdict = placeMaterial(
    tree,
    occupancy.facts,
    { id: material.id, preservation: preservationOf(kept) },
    { unitId: unit.id, position },
  );
  if (!verdict.ok) throw explain(verdict, occupancy.holder, unit, positionName, material);
  const around = resolveConditions(tree, unit.id);
  return {
    unitId: unit.id,
    position: positionName,
    path: placePath({ unit: row, position: positionName }) ?? row.path,
    freezerId: around.freezerId,
    targetTemperatureC: around.targetTemperatureC,
  };
}

function readPosition(unit: StorageUnit, text: string | null): number | null {
  if (text === null || text.trim() === '') return null;
  if (unit.grid === null) throw refused('position', say('{name} has no positions.', { name: unit.name }));
  const parsed = parsePosition(unit.grid, text);
  if (!parsed.ok) throw refused('position', parsed.message);
  return parsed.value;
}

/** What stands at the wanted place now, as the rule wants to know it. */
async function seeOccupancy(
  work: Work,
  material: MaterialRow,
  unit: StorageUnit,
  position: number | null,
  positionName: string | null,
): Promise<{ facts: Occupancy; holder: string | null }> {
  const placeOf = new Map<string, MaterialPlace>([[material.id, bookedPlace(material)]]);
  if (position === null || positionName === null) {
    const inside = unit.capacity === null ? 0 : await countInside(work.db, unit.id);
    return { facts: { ...emptyOccupancy, placeOf, countIn: new Map([[unit.id, inside]]) }, holder: null };
  }
  const { material: held, unit: standing } = await findHolder(work.db, unit.id, positionName);
  const holderId = held?.id ?? standing?.id;
  if (holderId === undefined) return { facts: { ...emptyOccupancy, placeOf }, holder: null };
  const holderAt = new Map([[positionKey(unit.id, position), holderId]]);
  return {
    facts: { ...emptyOccupancy, placeOf, holderAt },
    holder: held === null ? (standing?.name ?? null) : labelOf(held),
  };
}

function bookedPlace(material: MaterialRow): MaterialPlace {
  if (material.custody === 'on-loan')
    return { where: 'on-loan', loanId: material.loanLines[0]?.loan.number ?? '' };
  if (material.custody !== 'on-shelf') return { where: 'gone' };
  const { placement } = material;
  return placement === null
    ? { where: 'in-hand', personId: '' }
    : { where: 'position', unitId: placement.unitId, position: null };
}

function explain(
  verdict: { reason: string; message: string },
  holder: string | null,
  unit: StorageUnit,
  positionName: string | null,
  material: MaterialRow,
) {
  const label = labelOf(material);
  switch (verdict.reason) {
    case 'position-taken':
      return conflict(
        say('{name} {positionName} already holds {holder}. Nothing was moved.', {
          name: unit.name,
          positionName,
          holder,
        }),
      );
    case 'full':
      return conflict(verdict.message);
    case 'not-on-shelf': {
      const loan = material.loanLines[0]?.loan.number;
      return conflict(
        say('{label} is out on loan{x}: it must be returned first.', { label, x: loan ? ` ${loan}` : '' }),
      );
    }
    case 'gone':
      return conflict(
        say('{label} is {replace} and has no place in the store.', {
          label,
          replace: material.custody.replace('-', ' '),
        }),
      );
    case 'no-such-position':
      return refused('position', verdict.message);
    default:
      return refused('unitId', verdict.message);
  }
}

const refused = (path: string, message: string) => notValid(message, [{ path, message }]);
