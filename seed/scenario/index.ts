import { DEMO_PASSWORD, DEMO_PEOPLE } from '@/lib/platform/identity/demo';
import { foundMuseum } from './foundation';

/** Printed at the start and offered on the sign-in page. */
export const demoSignIns = DEMO_PEOPLE.map(({ email, roles }) => ({
  role: roles[0] ?? '',
  email,
  password: DEMO_PASSWORD,
}));

export async function loadScenario(_databaseUrl: string): Promise<void> {
  await foundMuseum();
}
