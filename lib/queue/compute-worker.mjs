import { parentPort, workerData } from 'node:worker_threads';
import { tsImport } from 'tsx/esm/api';

// A thread does not inherit its program's reader of TypeScript, so this entry is plain and brings its own.
const { doTask } = await tsImport('./compute-task.ts', import.meta.url);
parentPort.postMessage(await doTask(workerData));
