import type { CountedBird } from './repo/ledger';
import type { Holding } from './schema';

type Individual = CountedBird['bird'];
type Material = NonNullable<Individual>['materials'][number];

/**
 * Where a bird was on the closing day and what of it, from dated facts, so that a later look at the same year says the
 * same. Only a missing material has no day: it is missing from when somebody noted it.
 */
export function describeHolding(
  individual: Individual,
  untilOn: string,
  dayAt: (at: Date) => string,
): Pick<Holding, 'where' | 'description'> {
  if (individual === null) return { where: 'freezer', description: 'in custody, in triage' };
  const by = (at: Date | null | undefined): boolean => at != null && dayAt(at) <= untilOn;
  const products = individual.materials.filter(({ kind, createdAt }) => kind !== 'carcass' && by(createdAt));
  const kept = products.length > 0 ? products : individual.materials.filter(({ kind }) => kind === 'carcass');
  if (kept.length > 0 && kept.every(({ custody }) => custody === 'missing')) {
    return { where: 'missing', description: 'missing' };
  }
  const catalogue = by(individual.catalogue?.approvedAt) ? individual.catalogue : null;
  const away = kept.filter((material) => onLoanOn(material, untilOn, dayAt));
  const allAway = kept.length > 0 && away.length === kept.length;
  const description = [
    products.length > 0 ? `prepared: ${sayKinds(products)}` : sayUndivided(individual, by),
    ...(catalogue === null ? [] : [`catalogued as ${catalogue.number}`]),
    ...(away.length === 0 ? [] : [allAway ? 'on loan' : `on loan: ${sayKinds(away)}`]),
  ].join('; ');
  if (allAway) return { where: 'on-loan', description };
  if (catalogue !== null) return { where: 'catalogued', description };
  if (products.length > 0) return { where: cleansOn(products) ? 'cleaning' : 'preparation', description };
  return { where: by(individual.bench?.startedAt) ? 'preparation' : 'freezer', description };
}

const cleansOn = (products: Material[]): boolean =>
  products.some(({ kind, state }) => kind === 'skeleton' && state !== 'shelved');

function sayUndivided(
  individual: NonNullable<Individual>,
  by: (at: Date | null | undefined) => boolean,
): string {
  if (by(individual.bench?.startedAt)) return 'in preparation';
  return by(individual.frozenAt) ? 'in freezer' : 'in custody';
}

function onLoanOn({ loanLines }: Material, untilOn: string, dayAt: (at: Date) => string): boolean {
  return loanLines.some(
    ({ sentAt, outcomeAt }) =>
      sentAt !== null && dayAt(sentAt) <= untilOn && (outcomeAt === null || dayAt(outcomeAt) > untilOn),
  );
}

/** 'skeleton, skin, 2 vials'. */
function sayKinds(materials: Material[]): string {
  const counts = new Map<string, number>();
  for (const { kind } of materials) counts.set(kind, (counts.get(kind) ?? 0) + 1);
  return [...counts]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([kind, count]) => {
      const word = kind.replaceAll('-', ' ');
      return count === 1 ? word : `${count} ${word}s`;
    })
    .join(', ');
}
