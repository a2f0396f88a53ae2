// `npm test`: everything a change must pass. Names of stages as arguments run only those.
import { runTypeScript } from './bootstrap.mjs';

runTypeScript('test.ts');
