import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { putPlanInForce } from '@/lib/queue/plan-in-force';
import { dayPlan, planVersion } from '@/lib/queue/plan-wire';

export const POST = defineRoute({
  permission: 'plan.make',
  params: idParams,
  body: planVersion,
  response: dayPlan,
  service: ({ context, params, body }) => putPlanInForce(context, params.id, body.version),
});
