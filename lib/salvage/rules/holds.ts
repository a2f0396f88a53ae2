import { type HoldKind, holdKinds } from '@/lib/permits/schema';
import { phrases, say, sayCode } from '@/lib/platform/words/say';

export type HoldLifter = 'preparator' | 'curator' | 'registrar' | 'permit-officer';

export type HoldRule = {
  kind: HoldKind;
  /** What the hold stops. */
  stops: ('preparation' | 'tissue' | 'disposal' | 'acceptance')[];
  liftedBy: HoldLifter[];
  /** What must be written down to lift it. */
  needsDocument: boolean;
  whatToDo: string;
};

/** One rule a kind of hold: what waits, who lifts it, and what must be recorded. Local rules decide. */
export const holdRules: Record<HoldKind, HoldRule> = phrases({
  legal: {
    kind: 'legal',
    stops: ['preparation', 'tissue', 'disposal', 'acceptance'],
    liftedBy: ['permit-officer'],
    needsDocument: true,
    whatToDo: 'Keep it whole and frozen until the officer names an authority that covers it.',
  },
  evidence: {
    kind: 'evidence',
    stops: ['preparation', 'tissue', 'disposal', 'acceptance'],
    liftedBy: ['permit-officer'],
    needsDocument: true,
    whatToDo: 'Possible evidence: seal it, note every hand it passes through, wait for a written release.',
  },
  disease: {
    kind: 'disease',
    stops: ['preparation', 'tissue', 'acceptance'],
    liftedBy: ['curator', 'permit-officer'],
    needsDocument: false,
    whatToDo: 'Bag it twice, keep it apart, do not open it; ask the wildlife health authority.',
  },
  event: {
    kind: 'event',
    stops: ['preparation', 'tissue', 'disposal', 'acceptance'],
    liftedBy: ['permit-officer'],
    needsDocument: true,
    whatToDo: 'Several dead at one place: tell law enforcement and record the instruction.',
  },
  quarantine: {
    kind: 'quarantine',
    stops: ['preparation', 'tissue', 'acceptance'],
    liftedBy: ['permit-officer'],
    needsDocument: false,
    whatToDo: 'Keep it apart until another authority or the officer’s ruling covers it.',
  },
  'contact-first': {
    kind: 'contact-first',
    stops: ['preparation', 'tissue', 'disposal', 'acceptance'],
    liftedBy: ['permit-officer'],
    needsDocument: true,
    whatToDo: 'Call the office named, record the day and its answer.',
  },
  identification: {
    kind: 'identification',
    stops: ['disposal'],
    liftedBy: ['preparator', 'curator', 'permit-officer'],
    needsDocument: false,
    whatToDo: 'Identify it as far as it goes; a possible eagle or listed bird goes to the officer.',
  },
  'missing-data': {
    kind: 'missing-data',
    stops: ['acceptance'],
    liftedBy: ['preparator', 'curator', 'registrar', 'permit-officer'],
    needsDocument: false,
    whatToDo: 'Ask the finder for what is missing.',
  },
});

/** May somebody with these roles lift the hold, and is the document there that it needs? */
export function canLiftHold(
  kind: HoldKind,
  roles: readonly string[],
  documentReference: string | null,
): { allowed: boolean; reason: string } {
  const rule = holdRules[kind];
  if (!rule.liftedBy.some((role) => roles.includes(role))) {
    return {
      allowed: false,
      reason: say('This hold is lifted by: {liftedBy}', {
        liftedBy: rule.liftedBy.map(sayCode).join(', '),
      }),
    };
  }
  if (rule.needsDocument && documentReference === null) {
    return { allowed: false, reason: say('Name the written release, instruction or ruling that lifts it') };
  }
  return { allowed: true, reason: say('The hold can be lifted') };
}

/** Everything that the holds on a bird stop together. */
export function stoppedByHolds(kinds: readonly HoldKind[]): Set<HoldRule['stops'][number]> {
  return new Set(kinds.flatMap((kind) => holdRules[kind].stops));
}

/** The holds in one order, the gravest first, as shown to people. */
export function sortHolds(kinds: readonly HoldKind[]): HoldKind[] {
  const gravest: HoldKind[] = ['evidence', 'legal', 'event', 'contact-first', 'disease', 'quarantine'];
  const order = [...gravest, ...holdKinds.filter((kind) => !gravest.includes(kind))];
  return [...new Set(kinds)].sort((a, b) => order.indexOf(a) - order.indexOf(b));
}
