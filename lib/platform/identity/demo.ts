import type { Role } from '../permissions';

/** Sign-ins of the invented museum; they exist only where the demo scenario was loaded. */
export const DEMO_PASSWORD = 'wishbone-demo';

export const DEMO_PEOPLE: readonly { email: string; name: string; roles: readonly Role[] }[] = [
  { email: 'volunteer@demo.example', name: 'Ines Varga', roles: ['volunteer'] },
  { email: 'volunteer2@demo.example', name: 'Tomas Lindqvist', roles: ['volunteer'] },
  { email: 'preparator@demo.example', name: 'Rosa Okafor', roles: ['preparator'] },
  { email: 'curator@demo.example', name: 'Henrike Dahl', roles: ['curator'] },
  { email: 'curator2@demo.example', name: 'Malik Osei', roles: ['curator'] },
  { email: 'registrar@demo.example', name: 'Agnes Pell', roles: ['registrar'] },
  { email: 'officer@demo.example', name: 'Jonah Whitlock', roles: ['permit-officer'] },
  { email: 'administrator@demo.example', name: 'Sunniva Marsh', roles: ['administrator'] },
  { email: 'visitor@demo.example', name: 'Pavel Brandt', roles: ['visitor'] },
];
