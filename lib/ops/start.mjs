// `npm start`, and `npm run dev` with --dev.
import { runTypeScript } from './bootstrap.mjs';

runTypeScript('start.ts');
