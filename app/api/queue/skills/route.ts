import { defineRoute } from '@/lib/platform/http';
import { listBenchPeople, signSkill } from '@/lib/queue/skills';
import { benchPeople, skillChange } from '@/lib/queue/wire';

export const GET = defineRoute({
  permission: 'plan.see',
  response: benchPeople,
  service: ({ actor }) => listBenchPeople(actor),
});

export const POST = defineRoute({
  permission: 'skills.sign',
  body: skillChange,
  response: benchPeople,
  service: ({ context, body }) => signSkill(context, body),
});
