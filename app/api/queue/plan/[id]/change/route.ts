import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { dayPlan, planChange } from '@/lib/queue/plan-wire';
import { changePlan } from '@/lib/queue/plans';

export const POST = defineRoute({
  permission: 'plan.make',
  params: idParams,
  body: planChange,
  response: dayPlan,
  service: ({ context, params, body }) => changePlan(context, params.id, body),
});
