import { say } from '@/lib/platform/words/say';
import type { QualityClass } from '@/lib/storage/public';
import type { TimeExposed } from './exposure';
import type { Preservation } from './schema';

export const tissueUses = [
  'long-read-genome',
  'short-read-genome',
  'short-markers',
  'rna',
  'pathogens',
  'isotopes-and-residues',
] as const;
export type TissueUse = (typeof tissueUses)[number];

export type UseVerdict = { use: TissueUse; verdict: 'good' | 'doubtful' | 'unfit'; reason: string };

/** Settings of the institution; the defaults are common practice, no source. */
export type UseLimits = {
  longReadMostHours: number;
  longReadMostThaws: number;
  shortReadMostThaws: number;
  rnaMostHours: number;
  pathogenMostThaws: number;
};
export const defaultUseLimits: UseLimits = {
  longReadMostHours: 12,
  longReadMostThaws: 1,
  shortReadMostThaws: 4,
  rnaMostHours: 1,
  pathogenMostThaws: 2,
};

export type UseFacts = {
  quality: Pick<QualityClass, 'stars'>;
  exposed: TimeExposed;
  thawCount: number;
  preservation: Preservation;
};

type Check = { severity: 'doubtful' | 'unfit'; reason: string };

/** What a vial is still good for, use by use, with the strongest reason against. A guide, not a promise. */
export function judgeUses(facts: UseFacts, limits: UseLimits = defaultUseLimits): UseVerdict[] {
  return tissueUses.map((use) => {
    const checks = checksFor(use, facts, limits);
    const worst = checks.find((check) => check.severity === 'unfit') ?? checks[0];
    return worst
      ? { use, verdict: worst.severity, reason: worst.reason }
      : { use, verdict: 'good' as const, reason: say('Nothing on record speaks against it.') };
  });
}

function checksFor(use: TissueUse, facts: UseFacts, limits: UseLimits): Check[] {
  const { stars } = facts.quality;
  const { kind } = facts.preservation;
  const checks: Check[] = [];
  const against = (holds: boolean, severity: Check['severity'], reason: string) => {
    if (holds) checks.push({ severity, reason });
  };
  const atMost = (thaws: number) =>
    against(
      facts.thawCount > thaws,
      'doubtful',
      say('It thawed {thawCount} times; more than {thaws} speaks against it.', {
        thawCount: facts.thawCount,
        thaws,
      }),
    );
  const within = (hours: number) => {
    const { leastHours, mostHours, unknown } = facts.exposed;
    const most = say('{round} h without cold; {hours} h is the limit.', {
      round: Math.round(mostHours),
      hours,
    });
    against(
      leastHours > hours,
      'unfit',
      say('At least {round} h without cold; {hours} h is the limit.', {
        round: Math.round(leastHours),
        hours,
      }),
    );
    against(leastHours <= hours && mostHours > hours, 'doubtful', say('Up to {most}', { most }));
    against(unknown.length > 0, 'doubtful', say('How long it lay without cold is not fully recorded.'));
  };
  const needsClass = (least: number) => {
    against(stars === null, 'doubtful', say('Its quality class is not known.'));
    against(
      stars !== null && stars < least,
      'doubtful',
      say('Class {stars}; class {least} or better is wanted.', { stars, least }),
    );
  };
  switch (use) {
    case 'long-read-genome':
      needsClass(3);
      within(limits.longReadMostHours);
      atMost(limits.longReadMostThaws);
      against(kind === 'dry', 'unfit', say('Dry tissue gives short fragments.'));
      break;
    case 'short-read-genome':
      needsClass(2);
      atMost(limits.shortReadMostThaws);
      break;
    case 'short-markers':
      break;
    case 'rna':
      against(
        kind !== 'rna-stabiliser' && kind !== 'liquid-nitrogen' && kind !== 'frozen',
        'unfit',
        say('RNA does not last in this preservation.'),
      );
      within(limits.rnaMostHours);
      against(facts.thawCount > 0, 'unfit', say('RNA does not outlast a thaw.'));
      break;
    case 'pathogens':
      against(
        kind !== 'frozen' && kind !== 'liquid-nitrogen',
        'doubtful',
        say('Only its nucleic acids can be looked for.'),
      );
      atMost(limits.pathogenMostThaws);
      break;
    case 'isotopes-and-residues':
      against(
        kind === 'dmso-salt' || kind === 'rna-stabiliser',
        'unfit',
        say('The liquid changes the chemistry.'),
      );
      against(kind === 'ethanol', 'doubtful', say('Ethanol takes out fats: correct for it.'));
      break;
  }
  return checks;
}
