import { loadScenario } from '@/seed/scenario';
loadScenario(process.env.DATABASE_URL ?? '').then(() => { console.log('done'); process.exit(0); }, (e) => { console.error(e); process.exit(1); });
