import { z } from 'zod';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { endSlip } from '@/lib/salvage/service/slips';
import { slipRow } from '@/lib/salvage/wire-slip';

export const POST = defineRoute({
  permission: 'salvage.slips',
  params: idParams,
  body: z.object({}),
  response: slipRow,
  service: ({ context, params }) => endSlip(context, params.id),
});
