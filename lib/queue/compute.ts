import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Worker } from 'node:worker_threads';
import type { PlanOutcome } from './plan';
import type { Forecast, ForecastInput } from './rules/forecast';
import type { PlanProblem } from './schema';

export type ComputeTask =
  | { kind: 'plan'; problem: PlanProblem; seconds: number }
  | { kind: 'forecast'; input: ForecastInput };

/** What each task answers. */
type Answer<T extends ComputeTask> = T extends { kind: 'plan' } ? PlanOutcome : Forecast;

/**
 * Runs a plan or a forecast in a thread of its own: both hold their thread for seconds. The worker file is found from
 * the project's root at run time, by a path that no bundler follows, and read by tsx as the other server programs are.
 * An aborted signal ends the thread and rejects with the signal's reason.
 */
export async function runInThread<T extends ComputeTask>(task: T, signal?: AbortSignal): Promise<Answer<T>> {
  signal?.throwIfAborted();
  const root = process.cwd();
  const worker = new Worker(pathToFileURL(join(root, 'lib', 'queue', 'compute-worker.mjs')), {
    workerData: task,
    execArgv: [],
  });
  const stop = () => void worker.terminate();
  signal?.addEventListener('abort', stop, { once: true });
  try {
    return await new Promise<Answer<T>>((resolve, reject) => {
      worker.once('message', resolve);
      worker.once('error', reject);
      worker.once('exit', () =>
        reject(signal?.reason ?? new Error('The computing thread ended without an answer.')),
      );
    });
  } finally {
    signal?.removeEventListener('abort', stop);
    await worker.terminate();
  }
}
