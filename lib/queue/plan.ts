import { say } from '@/lib/platform/words/say';
import { type SolvedModel, solveModel } from './plan-solver';
import { skillLevelFor } from './rules/claims';
import { buildDayModel, type DayModel, minutesFor, PLAN_RULES, type PlanRule } from './rules/plan-model';
import { sayRule, whyIdle } from './rules/plan-reasons';
import { type GivenBird, type PlannedBird, scheduleDay } from './rules/plan-schedule';
import type { PlanProblem } from './schema';

export type DayPlan = {
  outcome: 'proved-best' | 'best-found';
  /** What is said of the plan's quality, as a sentence. */
  quality: string;
  birds: PlannedBird[];
  supervision: { personId: string; supervisorId: string }[];
  idle: { personId: string; reason: string }[];
  /** Cost in tenths of a point, and the least that any plan can cost. */
  cost: number;
  costBound: number;
};
export type PlanOutcome =
  | DayPlan
  | { outcome: 'infeasible'; rules: { rule: PlanRule; sentence: string }[] }
  | { outcome: 'nothing-to-plan'; sentence: string }
  | { outcome: 'no-plan-found'; sentence: string };

type Solved = Extract<SolvedModel, { counts: number[][] }>;

/** The plan, if it gives anybody anything. */
const withWork = (solved: SolvedModel): Solved | null =>
  'counts' in solved && solved.counts.some((row) => row.some((count) => count > 0)) ? solved : null;

/** Share of the time that a diagnosis may take, all its questions together. */
const DIAGNOSIS_QUESTIONS = 2 * PLAN_RULES.length;

/**
 * Proposes who prepares what on a day: the plan of least cost that keeps skills, supervision, hours, bench places,
 * holds and hand changes. Says honestly whether it is proved best or the best found in `seconds`, and which rules stand
 * in the way when nobody can be given anything or something demanded cannot be done.
 */
export async function planDay(problem: PlanProblem, seconds: number): Promise<PlanOutcome> {
  if (problem.people.length === 0)
    return { outcome: 'nothing-to-plan', sentence: say('Nobody comes on this day.') };
  if (problem.birds.length === 0) return { outcome: 'nothing-to-plan', sentence: say('The queue is empty.') };
  const day = buildDayModel(problem, new Set());
  const solved = await solveModel(day.model, seconds);
  const plan = withWork(solved);
  if (plan !== null) return describePlan(problem, day, plan, seconds);
  if (solved.status === 'no-plan-found' || solved.status === 'best-found')
    return {
      outcome: 'no-plan-found',
      sentence: say('No plan was found in {seconds} s: give it more time.', { seconds }),
    };
  const rules = await findRules(problem, seconds / DIAGNOSIS_QUESTIONS);
  return { outcome: 'infeasible', rules: rules.map((rule) => ({ rule, sentence: sayRule(rule, problem) })) };
}

/**
 * The rules that make a day impossible: each rule that alone, once suspended, makes work possible. Where no single one
 * does, a smallest set found by suspending all and taking back each that is not needed.
 */
async function findRules(problem: PlanProblem, seconds: number): Promise<PlanRule[]> {
  const works = async (suspended: readonly PlanRule[]) =>
    withWork(await solveModel(buildDayModel(problem, new Set(suspended)).model, seconds)) !== null;
  const single: PlanRule[] = [];
  for (const rule of PLAN_RULES) if (await works([rule])) single.push(rule);
  if (single.length > 0) return single;
  let needed: readonly PlanRule[] = PLAN_RULES;
  for (const rule of PLAN_RULES) {
    const fewer = needed.filter((other) => other !== rule);
    if (await works(fewer)) needed = fewer;
  }
  return [...needed];
}

/** Deals the birds of each kind out, the most urgent to those who work alone. */
function dealBirds(problem: PlanProblem, { model, birdsOfKind }: DayModel, solved: Solved): GivenBird[] {
  return model.kinds.flatMap((kind, k) => {
    const takers = kind.options.flatMap((option, o) =>
      Array.from({ length: solved.counts[k]?.[o] ?? 0 }, () => option),
    );
    takers.sort(
      (a, b) => Number(a.supervisors !== null) - Number(b.supervisors !== null) || a.person - b.person,
    );
    return takers.flatMap((option, place): GivenBird[] => {
      const person = problem.people[option.person];
      const bird = problem.birds[birdsOfKind[k]?.[place] ?? -1];
      if (person === undefined || bird === undefined) return [];
      const level = skillLevelFor(person.skills, bird) ?? 'training';
      const supervisor = option.supervisors === null ? undefined : solved.supervisorOf.get(option.person);
      const supervisorId = supervisor === undefined ? null : (problem.people[supervisor]?.personId ?? null);
      const minutes = minutesFor(bird, level, problem.settings);
      return [
        {
          personId: person.personId,
          birdId: bird.birdId,
          level,
          supervisorId,
          minutes,
          priority: bird.priority,
        },
      ];
    });
  });
}

function sayQuality(solved: Solved, seconds: number): string {
  if (solved.status === 'proved-best') return say('Proved best: no other plan costs less.');
  const gap = solved.cost - solved.costBound;
  return say('Best found in {seconds} s: at most {ceil} points better is possible.', {
    seconds,
    ceil: Math.ceil(gap / 10),
  });
}

function describePlan(problem: PlanProblem, day: DayModel, solved: Solved, seconds: number): DayPlan {
  const idAt = (index: number) => problem.people[index]?.personId ?? '';
  const supervision = [...solved.supervisorOf].map(([trainee, supervisor]) => ({
    personId: idAt(trainee),
    supervisorId: idAt(supervisor),
  }));
  const supervisorOf = new Map(supervision.map((pair) => [pair.personId, pair.supervisorId]));
  const birds = scheduleDay(problem.planOn, problem.people, dealBirds(problem, day, solved), supervisorOf);
  const busy = new Set([...birds.map((bird) => bird.personId), ...supervisorOf.values()]);
  const idle = problem.people.filter((person) => !busy.has(person.personId));
  return {
    outcome: solved.status,
    quality: sayQuality(solved, seconds),
    birds,
    supervision,
    idle: idle.map((person) => ({ personId: person.personId, reason: whyIdle(person, problem) })),
    cost: solved.cost,
    costBound: solved.costBound,
  };
}
