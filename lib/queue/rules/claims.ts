import { say, sayCode } from '@/lib/platform/words/say';
import type {
  CarcassState,
  ClaimSettings,
  HoldKind,
  PreparationStyle,
  SizeClass,
  Skill,
  SkillLevel,
} from '../schema';
import { moveCarcass, type Verdict } from './carcass';

type Job = { style: PreparationStyle; sizeClass: SizeClass };

/** How far a person is with a style and size; null when it is not among their skills. The highest entry counts. */
export function skillLevelFor(skills: readonly Skill[], { style, sizeClass }: Job): SkillLevel | null {
  const levels = skills
    .filter((skill) => skill.style === style && skill.sizeClass === sizeClass)
    .map((skill) => skill.level);
  if (levels.includes('alone')) return 'alone';
  if (levels.includes('supervised')) return 'supervised';
  return levels.includes('training') ? 'training' : null;
}

export type ClaimFacts = {
  person: { personId: string; skills: readonly Skill[]; openClaims: number };
  bird: {
    state: CarcassState;
    holds: readonly HoldKind[];
    style: PreparationStyle | null;
    sizeClass: SizeClass;
  };
  /** Named by those who do not do this alone. */
  supervisor: { personId: string; supervises: boolean; skills: readonly Skill[] } | null;
};

export type ClaimVerdict = { ok: true; level: SkillLevel } | { ok: false; code: string; reason: string };

const refuse = (code: string, reason: string) => ({ ok: false as const, code, reason });

function checkSupervisor({ person, supervisor }: ClaimFacts, job: Job): Verdict {
  if (supervisor === null)
    return refuse(
      'needs-supervisor',
      say('You do this kind of bird beside a supervisor: name who will be there.'),
    );
  if (supervisor.personId === person.personId)
    return refuse('own-supervisor', say('Nobody supervises themselves: name somebody else.'));
  if (!supervisor.supervises || skillLevelFor(supervisor.skills, job) !== 'alone')
    return refuse('not-a-supervisor', say('The person named may not supervise this style and size.'));
  return { ok: true };
}

/**
 * Whether this person may take this bird: its state and holds, their skill with its style and size, a supervisor where
 * one is needed, and the limit of open claims. The database decides who is first; this says who may try.
 */
export function mayTakeBird(facts: ClaimFacts, settings: ClaimSettings): ClaimVerdict {
  const { person, bird } = facts;
  const move = moveCarcass(bird.state, 'take', bird.holds);
  if (!move.ok) return move;
  if (bird.style === null)
    return refuse('no-style', say('No preparation has been chosen for this bird yet.'));
  const job = { style: bird.style, sizeClass: bird.sizeClass };
  const level = skillLevelFor(person.skills, job);
  if (level === null) {
    const what = say('{words}, {words2} birds', {
      words: sayCode(job.style),
      words2: sayCode(job.sizeClass),
    });
    return refuse(
      'no-skill',
      say('{what} are not among the skills signed off for you. Ask a preparator to train you.', { what }),
    );
  }
  if (level !== 'alone') {
    const supervision = checkSupervisor(facts, job);
    if (!supervision.ok) return supervision;
  }
  if (person.openClaims >= settings.maxOpenClaims) {
    const limit = settings.maxOpenClaims;
    return refuse(
      'too-many-claims',
      say('You have {openClaims} birds, of at most {limit}: finish or put one back.', {
        openClaims: person.openClaims,
        limit,
      }),
    );
  }
  return { ok: true, level };
}

/**
 * Whether a bird may pass from one person to another: the receiver must be able to take it, whatever its state.
 */
export function mayReceiveBird(facts: ClaimFacts, settings: ClaimSettings): ClaimVerdict {
  const move = moveCarcass(facts.bird.state, 'hand-over', facts.bird.holds);
  if (!move.ok) return move;
  return mayTakeBird({ ...facts, bird: { ...facts.bird, state: 'queued', holds: [] } }, settings);
}
