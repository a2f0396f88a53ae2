import { z } from 'zod';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { lookUpFinder } from '@/lib/salvage/service/finder';
import { finderAnswer } from '@/lib/salvage/wire-finder';

/** A command, not a read: that somebody looked goes into the history. */
export const POST = defineRoute({
  permission: 'finder.see',
  params: idParams,
  body: z.object({}),
  response: finderAnswer,
  service: ({ context, params }) => lookUpFinder(context, params.id),
});
