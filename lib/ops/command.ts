import { explainError, OperatorError } from './operator-error';

/** Runs the main function of a command; an error becomes one sentence (or a trace, when unforeseen) and exit code 1. */
export function runCommand(main: () => Promise<void>): void {
  main().then(
    () => process.exit(process.exitCode ?? 0),
    (error: unknown) => {
      console.error(explainError(error));
      process.exit(1);
    },
  );
}

/** Runs a stage, then says how long it took. */
export async function timeStage<T>(name: string, work: () => Promise<T> | T): Promise<T> {
  const startedAt = performance.now();
  const result = await work();
  console.log(`${name.padEnd(44)} ${formatSeconds(performance.now() - startedAt)}`);
  return result;
}

/** A duration given in ms, as seconds for a person. */
export function formatSeconds(durationMs: number): string {
  return `${(durationMs / 1000).toFixed(1)} s`.padStart(8);
}

/** Reads a word from the command line, such as the name of a migration. */
export function readNameArgument(what: string): string {
  const name =
    process.argv[2]
      ?.trim()
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '_') ?? '';
  if (name === '')
    throw new OperatorError(`Give ${what}, for instance: npm run db:diff -- add_freezer_alarms`);
  return name;
}
