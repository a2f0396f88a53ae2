import { defineRoute } from '@/lib/platform/http';
import { dayPlan, planListQuery, planPage, planRequest } from '@/lib/queue/plan-wire';
import { askPlan, listPlans } from '@/lib/queue/plans';

export const GET = defineRoute({
  permission: 'plan.see',
  query: planListQuery,
  response: planPage,
  service: ({ actor, query }) => listPlans(actor, query),
});

export const POST = defineRoute({
  permission: 'plan.make',
  body: planRequest,
  response: dayPlan,
  service: ({ context, body }) => askPlan(context, body),
});
