import { z } from 'zod';
import { dropView } from '@/lib/catalogue/service/views';
import { savedViews } from '@/lib/catalogue/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'catalogue.see',
  params: idParams,
  body: z.object({}),
  response: savedViews,
  service: ({ context, params }) => dropView(context, params.id),
});
