import type {
  LedgerInput,
  Movement,
  ReportCounts,
  ReportLine,
  ReportRow,
  RuleCheck,
  StockEvent,
} from '../schema';
import { expectedOnHand, isAcquisition, isDisposal, totalsOf } from './totals';
import type { Course } from './walk';

export type Proof = {
  input: LedgerInput;
  heard: StockEvent[];
  courses: Course[];
  lines: ReportLine[];
  rows: ReportRow[];
  movements: Movement[];
  total: ReportCounts;
};

const titles = [
  'Opening + salvaged + received ± corrections − transferred − destroyed = on hand, in every row',
  'Opening equals the closing of the previous accepted version',
  'On hand equals what stands in freezers, in preparation, in cleaning and catalogued',
  'Month, county and line totals agree',
  'One bird is one: no part counts beside its held parent, no product adds',
  'A loan changes place, not stock',
  'Whether cataloguing is a disposition is settled for this authority',
  'A changed identification is two matching lines',
  'Eagles, listed, out-of-place and out-of-term birds cite their separate authority',
] as const;

function conclude(rule: number, details: string[], checked = true): RuleCheck {
  return { rule, title: titles[rule - 1] ?? '', holds: checked ? details.length === 0 : null, details };
}

function checkEquation({ rows, lines }: Proof): RuleCheck {
  const wrongRows = rows
    .filter((row) => expectedOnHand(row) !== row.onHand)
    .map(
      (row) => `${row.taxon}, ${row.specimenType}: ${expectedOnHand(row)} by the columns, ${row.onHand} held`,
    );
  const wrongLines = lines
    .filter(
      (line) => line.opening + line.late + line.acquired + line.corrections - line.disposed !== line.onHand,
    )
    .map((line) => `${line.number} does not balance`);
  return conclude(1, [...wrongRows, ...wrongLines]);
}

function checkOpening({ input, rows }: Proof): RuleCheck {
  if (!input.previous) return conclude(2, [], false);
  const key = (entry: { taxon: string; specimenType: string }) => `${entry.taxon}, ${entry.specimenType}`;
  const closing = new Map(input.previous.closing.map((count) => [key(count), count.quantity]));
  const opening = new Map(rows.map((row) => [key(row), row.opening]));
  const details = [...new Set([...closing.keys(), ...opening.keys()])]
    .filter((name) => (closing.get(name) ?? 0) !== (opening.get(name) ?? 0))
    .map((name) => `${name}: closed with ${closing.get(name) ?? 0}, opens with ${opening.get(name) ?? 0}`);
  return conclude(2, details);
}

/** Differences between the book and the shelf, bird by bird. */
export function holdingDifferences(
  input: LedgerInput,
  lines: ReportLine[],
): { birdId: string; message: string }[] {
  const held = new Map<string, number>();
  for (const entry of input.holdings ?? []) {
    const counted = entry.where === 'missing' ? 0 : entry.quantity;
    held.set(entry.birdId, (held.get(entry.birdId) ?? 0) + counted);
  }
  const onBook = new Map(lines.map((line) => [line.birdId, line]));
  const expected = lines
    // A bird disposed of by cataloguing stays on the shelf without being stock.
    .filter((line) => line.outcome !== 'catalogued' && (held.get(line.birdId) ?? 0) !== line.onHand)
    .map((line) => ({
      birdId: line.birdId,
      message: `${line.number}: ${line.onHand} in the book, ${held.get(line.birdId) ?? 0} on the shelf`,
    }));
  const unexpected = [...held]
    .filter(([birdId, quantity]) => quantity > 0 && !onBook.has(birdId))
    .map(([birdId, quantity]) => ({
      birdId,
      message: `${birdId}: ${quantity} on the shelf, not in the book`,
    }));
  return [...expected, ...unexpected];
}

function checkHoldings({ input, lines }: Proof): RuleCheck {
  const details = input.holdings ? holdingDifferences(input, lines).map((entry) => entry.message) : [];
  return conclude(3, details, input.holdings !== null);
}

function checkTotals({ lines, movements, total }: Proof): RuleCheck {
  const { byCounty, byMonth } = totalsOf(lines, movements);
  const sum = (values: number[]) => values.reduce((a, b) => a + b, 0);
  const ways: [string, number[]][] = [
    [
      'acquired',
      [
        total.salvaged + total.received,
        sum(byCounty.map((entry) => entry.acquired)),
        sum(byMonth.map((entry) => entry.acquired)),
        sum(lines.map((line) => line.acquired)),
        sum(movements.filter((part) => isAcquisition(part.column)).map((part) => part.delta)),
      ],
    ],
    [
      'disposed',
      [
        total.transferred + total.destroyed + total.released + total.catalogued,
        sum(byCounty.map((entry) => entry.disposed)),
        sum(byMonth.map((entry) => entry.disposed)),
        sum(lines.map((line) => line.disposed)),
        sum(movements.filter((part) => isDisposal(part.column)).map((part) => 0 - part.delta)),
      ],
    ],
    [
      'on hand',
      [total.onHand, sum(byCounty.map((entry) => entry.onHand ?? 0)), sum(lines.map((line) => line.onHand))],
    ],
  ];
  const details = ways
    .filter(([, values]) => values.some((value) => value !== values[0]))
    .map(([name, values]) => `${name}: ${values.join(', ')}`);
  return conclude(4, details);
}

function checkOneBird({ input, lines }: Proof): RuleCheck {
  const held = new Map(lines.filter((line) => line.onHand > 0).map((line) => [line.birdId, line.number]));
  const parts = input.birds.filter(
    (bird) => bird.parentBirdId !== null && held.has(bird.birdId) && held.has(bird.parentBirdId),
  );
  const seen = new Set<string>();
  const repeated = lines.filter((line) => seen.has(line.birdId) || !seen.add(line.birdId));
  return conclude(5, [
    ...parts.map((bird) => `${bird.number} counts beside ${held.get(bird.parentBirdId ?? '')}`),
    ...repeated.map((line) => `${line.number} is on two lines`),
  ]);
}

function checkLoans({ courses }: Proof): RuleCheck {
  const details = courses.flatMap((course) =>
    course.inPeriod
      .filter((step) => step.event.kind === 'lent' || step.event.kind === 'loan-returned')
      .filter((step) => step.movements.length > 0)
      .map((step) => `${course.bird.number}: the loan of ${step.event.on} moved the stock`),
  );
  return conclude(6, details);
}

function checkCataloguing({ input, heard }: Proof): RuleCheck {
  const catalogued = heard.filter(
    (event) => event.kind === 'catalogued' && event.authorityId === input.authority.id,
  );
  const unset = input.authority.cataloguingIsDisposition === null && catalogued.length > 0;
  return conclude(7, unset ? ['The officer has not decided whether cataloguing is a disposition'] : []);
}

function checkIdentifications({ movements, total }: Proof): RuleCheck {
  const byEvent = new Map<string, number>();
  for (const part of movements) {
    if (part.column !== 'reclassifiedIn' && part.column !== 'reclassifiedOut') continue;
    byEvent.set(part.eventId, (byEvent.get(part.eventId) ?? 0) + part.delta);
  }
  const unmatched = [...byEvent].filter(([, sum]) => sum !== 0).map(([id]) => `${id} has no matching line`);
  const differs = total.reclassifiedIn !== total.reclassifiedOut;
  return conclude(8, differs ? [...unmatched, 'the two columns differ'] : unmatched);
}

function checkSpecial({ lines }: Proof): RuleCheck {
  const details = lines
    .filter((line) => line.special.length > 0 && line.separateAuthority === null)
    .filter((line) => line.opening + line.late + line.acquired + line.corrections !== 0)
    .map((line) => `${line.number} (${line.special.join(', ')}) cites no separate authority`);
  return conclude(9, details);
}

/** Check the nine arithmetic rules of the annual report, each on its own. */
export function checkRules(proof: Proof): RuleCheck[] {
  return [
    checkEquation(proof),
    checkOpening(proof),
    checkHoldings(proof),
    checkTotals(proof),
    checkOneBird(proof),
    checkLoans(proof),
    checkCataloguing(proof),
    checkIdentifications(proof),
    checkSpecial(proof),
  ];
}
