import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { dayPlan } from '@/lib/queue/plan-wire';
import { showPlan } from '@/lib/queue/plans';

export const GET = defineRoute({
  permission: 'plan.see',
  params: idParams,
  response: dayPlan,
  service: ({ actor, params }) => showPlan(actor, params.id),
});
