import { placeRange } from '@/lib/permits/public-rules';
import type { LedgerInput, ReportLine, ReportWarning, RuleCheck, StockEvent } from '../schema';
import { holdingDifferences } from './checks';
import { type Course, makeWarning } from './walk';

type Ground = {
  input: LedgerInput;
  heard: StockEvent[];
  courses: Course[];
  lines: ReportLine[];
  checks: RuleCheck[];
  walkWarnings: ReportWarning[];
};

function warnRules(checks: RuleCheck[]): ReportWarning[] {
  // Rules 3, 5 and 9 are told bird by bird below.
  return checks
    .filter((check) => check.holds === false && ![3, 5, 9].includes(check.rule))
    .map((check) => ({
      id: `rule-${check.rule}`,
      code: `rule-${check.rule}`,
      message: `${check.title}: ${check.details.join('; ')}`,
      birdIds: [],
      mustExplain: true,
    }));
}

function warnLine(line: ReportLine, { input }: Ground): ReportWarning[] {
  const warnings: ReportWarning[] = [];
  const add = (code: string, message: string, mustExplain = true) =>
    warnings.push(makeWarning(code, line.birdId, `${line.number} ${message}`, mustExplain));
  if (line.county === null) add('county-missing', 'has no county');
  if (line.special.length > 0 && line.separateAuthority === null) {
    add('separate-authority-missing', `(${line.special.join(', ')}) cites no separate authority`);
  }
  if (line.late !== 0 || line.origin === 'late-entry') {
    add('late-entry', 'belongs to an earlier period and was entered late: shown here, or amend that report');
  }
  if (line.origin !== 'salvaged') return warnings;
  const range = { earliestOn: line.foundEarliestOn, latestOn: line.foundLatestOn };
  if (placeRange(range, input.period.fromOn, input.period.untilOn) !== 'inside') {
    add('date-straddles-period', 'may have been found in another period');
  }
  const { effectiveOn, expiresOn } = input.authority;
  const inTerm = placeRange(range, effectiveOn, expiresOn) === 'inside';
  if (!inTerm && !line.special.includes('out-of-term')) {
    add('out-of-term', 'was found, or may have been, outside the term of the authority');
  }
  return warnings;
}

function warnEvents(course: Course): ReportWarning[] {
  const { bird } = course;
  const warnings: ReportWarning[] = [];
  for (const { event, movements } of course.inPeriod) {
    if (movements.length === 0) continue;
    const add = (code: string, message: string) =>
      warnings.push(
        makeWarning(code, bird.birdId, `${bird.number} ${message} (${event.on})`, true, event.eventId),
      );
    if (event.kind === 'transferred' && event.recipientAuthority === null) {
      add('recipient-authority-missing', 'was transferred without the recipient’s authority');
    }
    if (event.kind === 'destroyed' && (event.method === null || event.witness === null)) {
      add('destruction-unwitnessed', 'was destroyed without method or witness');
    }
    if (event.kind === 'received' && event.fromAuthority === null) {
      add('source-authority-missing', 'was received without the source’s authority');
    }
  }
  if (bird.bandNumber !== null && bird.bandReportedOn === null) {
    const message = `${bird.number} wears band ${bird.bandNumber}, which is not reported`;
    warnings.push(makeWarning('band-unreported', bird.birdId, message));
  }
  return warnings;
}

function warnParts({ input, lines }: Ground): ReportWarning[] {
  const held = new Set(lines.filter((line) => line.onHand > 0).map((line) => line.birdId));
  return input.birds
    .filter((bird) => bird.parentBirdId !== null && held.has(bird.birdId) && held.has(bird.parentBirdId))
    .map((bird) =>
      makeWarning('part-beside-parent', bird.birdId, `${bird.number} counts beside its held parent`),
    );
}

/** Events of birds that the input does not describe: their stock would be on no line. */
function warnStrangers({ input, heard }: Ground): ReportWarning[] {
  const known = new Set(input.birds.map((bird) => bird.birdId));
  const strangers = heard.filter(
    (event) => event.authorityId === input.authority.id && !known.has(event.birdId),
  );
  return [...new Set(strangers.map((event) => event.birdId))].map((birdId) =>
    makeWarning('bird-unknown', birdId, `${birdId} has events but no record`),
  );
}

/** Everything the officer must explain, or should know, before signing. Ids stay the same between versions. */
export function listWarnings(ground: Ground): ReportWarning[] {
  const holdings = ground.input.holdings
    ? holdingDifferences(ground.input, ground.lines).map((entry) =>
        makeWarning('holding-differs', entry.birdId, entry.message),
      )
    : [];
  const all = [
    ...warnRules(ground.checks),
    ...ground.walkWarnings,
    ...ground.lines.flatMap((line) => warnLine(line, ground)),
    ...ground.courses.flatMap(warnEvents),
    ...holdings,
    ...warnParts(ground),
    ...warnStrangers(ground),
  ];
  return [...new Map(all.map((warning) => [warning.id, warning])).values()];
}

/** May the report be signed? Only when every warning that must be explained has its sentence. */
export function checkReadyToSign(
  warnings: ReportWarning[],
  explanations: Record<string, string>,
): { ready: boolean; unexplained: ReportWarning[] } {
  const unexplained = warnings.filter(
    (warning) => warning.mustExplain && (explanations[warning.id] ?? '').trim() === '',
  );
  return { ready: unexplained.length === 0, unexplained };
}
