import { Lifetime } from './lifetime';
import { OperatorError } from './operator-error';
import { loadSettings } from './settings';
import { startWorker } from './worker';

const lifetime = new Lifetime();

/** `npm run worker`: does the background work of an installation until it is stopped. */
async function main(): Promise<void> {
  const settings = loadSettings();
  if (!settings.DATABASE_URL) throw new OperatorError('The worker needs DATABASE_URL.');
  const worker = await startWorker(settings.DATABASE_URL);
  if (!worker) throw new OperatorError('There is no background work to do.');
  await lifetime.onEnd(() => worker.stop());
  lifetime.isReady = true;
  console.log('Working.');
  await worker.promise;
}

main().catch((error) => lifetime.fail(error));
