import loadHighs, { type Highs } from 'highs';
import type { AssignmentModel } from './rules/plan-model';

/** How many birds of each kind each option does, and who is beside whom; with what is known of its quality. */
export type SolvedModel =
  | {
      status: 'proved-best' | 'best-found';
      /** counts[kind][option] */
      counts: number[][];
      /** Supervisor's index by trainee's index. */
      supervisorOf: Map<number, number>;
      cost: number;
      /** No plan can cost less than this. */
      costBound: number;
    }
  | { status: 'infeasible' }
  | { status: 'no-plan-found' };

type Row = { lower: number; upper: number; terms: [column: number, value: number][] };

/** Columns and rows of an integer program while it is being written down. */
class ProgramWriter {
  readonly cost: number[] = [];
  readonly upper: number[] = [];
  readonly isInteger: boolean[] = [];
  readonly rows: Row[] = [];
  offset = 0;

  column(cost: number, upper: number, isInteger = true): number {
    this.cost.push(cost);
    this.upper.push(upper);
    this.isInteger.push(isInteger);
    return this.cost.length - 1;
  }

  row(lower: number, upper: number, terms: [number, number][]): void {
    this.rows.push({ lower, upper, terms: terms.filter(([, value]) => value !== 0) });
  }
}

type Columns = {
  /** counts[kind][option] */
  counts: number[][];
  /** Whether a person is at the bench. */
  works: number[];
  /** beside: trainee → supervisor → column */
  beside: Map<number, Map<number, number>>;
};

function addColumns(program: ProgramWriter, model: AssignmentModel): Columns {
  const counts = model.kinds.map((kind) =>
    kind.options.map(({ cost, minutes, person }) => {
      const fits = Math.floor((model.people[person]?.minutes ?? 0) / minutes);
      return program.column(cost, Math.min(kind.leaveCosts.length, fits));
    }),
  );
  const works = model.people.map(({ idleCost }) => {
    program.offset += idleCost;
    return program.column(-idleCost, 1);
  });
  const beside = new Map<number, Map<number, number>>();
  for (const { person, supervisors } of model.kinds.flatMap((kind) => kind.options))
    for (const supervisor of supervisors ?? []) {
      const row = beside.get(person) ?? new Map<number, number>();
      beside.set(person, row);
      if (!row.has(supervisor)) row.set(supervisor, program.column(0, 1));
    }
  return { counts, works, beside };
}

/** Each bird at most once; the dearest to leave are taken first, which the minimum does by itself. */
function addBirdRows(program: ProgramWriter, model: AssignmentModel, { counts }: Columns): void {
  model.kinds.forEach((kind, k) => {
    const taken = (counts[k] ?? []).map((column): [number, number] => [column, 1]);
    for (const cost of kind.leaveCosts) {
      program.offset += cost;
      taken.push([program.column(-cost, 1, false), -1]);
    }
    program.row(0, 0, taken);
    if (!kind.required) return;
    const all = kind.leaveCosts.length;
    program.row(all, all, taken.slice(0, kind.options.length));
  });
}

function addPersonRows(
  program: ProgramWriter,
  model: AssignmentModel,
  { counts, works, beside }: Columns,
): void {
  model.people.forEach((person, p) => {
    const work = works[p] ?? 0;
    const birds: [number, number][] = [];
    const minutes: [number, number][] = [];
    model.kinds.forEach((kind, k) => {
      kind.options.forEach((option, o) => {
        const column = counts[k]?.[o];
        if (option.person !== p || column === undefined) return;
        birds.push([column, 1]);
        minutes.push([column, option.minutes]);
      });
    });
    const trainees = [...beside.values()].flatMap((row) => row.get(p) ?? []);
    const mine = [...(beside.get(p) ?? [])];
    for (const column of trainees) minutes.push([column, model.supervisionMinutes]);
    // Beside a supervisor one works only while that supervisor is there.
    for (const [q, column] of mine) minutes.push([column, person.minutes - (model.shared[p]?.[q] ?? 0)]);
    program.row(-Infinity, 0, [...minutes, [work, -person.minutes]]);
    program.row(-Infinity, 0, [...birds, [work, -person.maxBirds]]);
    program.row(-Infinity, 0, [
      [work, 1],
      ...[...birds.map(([c]) => c), ...trainees].map((c): [number, number] => [c, -1]),
    ]);
    if (mine.length > 0)
      program.row(
        -Infinity,
        1,
        mine.map(([, column]) => [column, 1]),
      );
    if (trainees.length > 0)
      program.row(-Infinity, 0, [
        ...trainees.map((c): [number, number] => [c, 1]),
        [work, -model.traineesPerSupervisor],
      ]);
  });
}

function addSupervisionRows(
  program: ProgramWriter,
  model: AssignmentModel,
  { counts, beside }: Columns,
): void {
  const reasons = new Map<number, number[]>();
  model.kinds.forEach((kind, k) => {
    kind.options.forEach((option, o) => {
      const column = counts[k]?.[o];
      if (option.supervisors === null || column === undefined) return;
      const most = program.upper[column] ?? 0;
      const columns = option.supervisors.flatMap((q) => beside.get(option.person)?.get(q) ?? []);
      program.row(-Infinity, 0, [[column, 1], ...columns.map((c): [number, number] => [c, -most])]);
      for (const c of columns) reasons.set(c, [...(reasons.get(c) ?? []), column]);
    });
  });
  // Nobody stands beside a trainee who does nothing that needs it.
  for (const [column, work] of reasons)
    program.row(-Infinity, 0, [[column, 1], ...work.map((c): [number, number] => [c, -1])]);
}

function writeProgram(model: AssignmentModel): { program: ProgramWriter; columns: Columns } {
  const program = new ProgramWriter();
  const columns = addColumns(program, model);
  addBirdRows(program, model, columns);
  addPersonRows(program, model, columns);
  addSupervisionRows(program, model, columns);
  for (const { people, places } of model.bench)
    program.row(
      -Infinity,
      places,
      people.map((p) => [columns.works[p] ?? 0, 1]),
    );
  return { program, columns };
}

let loaded: Promise<Highs> | undefined;

/**
 * Solves a day by HiGHS (integer program, WebAssembly). It holds its thread until it ends or `seconds` are over, so
 * call it in a thread of its own (`lib/queue/compute.ts`). Costs must be whole numbers: a gap under one half then
 * proves the best plan.
 */
export async function solveModel(model: AssignmentModel, seconds: number): Promise<SolvedModel> {
  loaded ??= loadHighs();
  const highs = await loaded;
  const { program, columns } = writeProgram(model);
  const starts = [0];
  for (const { terms } of program.rows) starts.push((starts.at(-1) ?? 0) + terms.length);
  const terms = program.rows.flatMap((row) => row.terms);
  const { integer, continuous } = highs.constants.variableType;
  const solver = highs.createModel({
    numCols: program.cost.length,
    numRows: program.rows.length,
    offset: program.offset,
    colCost: program.cost,
    colLower: program.cost.map(() => 0),
    colUpper: program.upper,
    rowLower: program.rows.map((row) => row.lower),
    rowUpper: program.rows.map((row) => row.upper),
    integrality: program.isInteger.map((whole) => (whole ? integer : continuous)),
    matrix: {
      format: 'csr',
      numRows: program.rows.length,
      numCols: program.cost.length,
      starts,
      indices: terms.map(([column]) => column),
      values: terms.map(([, value]) => value),
    },
  });
  try {
    solver.options.set({ output_flag: false, time_limit: seconds, mip_rel_gap: 0, mip_abs_gap: 0.5 });
    solver.run();
    const status = solver.getModelStatus();
    const { optimal, infeasible } = highs.constants.modelStatus;
    if (status === infeasible) return { status: 'infeasible' };
    const cost = solver.getObjectiveValue();
    const values = solver.getSolution().colValue;
    if (status !== optimal && (values.length === 0 || !(Math.abs(cost) < 1e15)))
      return { status: 'no-plan-found' };
    return readSolution(
      columns,
      values,
      cost,
      status === optimal ? null : Number(solver.info.get('mip_dual_bound')),
    );
  } finally {
    solver.dispose();
  }
}

function readSolution(
  columns: Columns,
  values: ArrayLike<number>,
  cost: number,
  openBound: number | null,
): SolvedModel {
  const whole = (column: number) => Math.round(values[column] ?? 0);
  const supervisorOf = new Map<number, number>();
  for (const [trainee, row] of columns.beside)
    for (const [supervisor, column] of row) if (whole(column) === 1) supervisorOf.set(trainee, supervisor);
  return {
    status: openBound === null ? 'proved-best' : 'best-found',
    counts: columns.counts.map((row) => row.map(whole)),
    supervisorOf,
    cost: Math.round(cost),
    costBound: openBound ?? Math.round(cost),
  };
}
