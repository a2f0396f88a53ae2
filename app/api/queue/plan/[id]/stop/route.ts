import { z } from 'zod';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { dayPlan } from '@/lib/queue/plan-wire';
import { stopPlan } from '@/lib/queue/plans';

export const POST = defineRoute({
  permission: 'plan.make',
  params: idParams,
  body: z.object({}),
  response: dayPlan,
  service: ({ context, params }) => stopPlan(context, params.id),
});
