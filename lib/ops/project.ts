import { fileURLToPath } from 'node:url';

/** Absolute path of the clone, without a slash at the end. */
export const projectRoot = fileURLToPath(new URL('../..', import.meta.url)).replace(/[\\/]$/, '');
