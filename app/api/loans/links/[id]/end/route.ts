import { z } from 'zod';
import { loanLinkRow } from '@/lib/loans/link-schema';
import { endLink } from '@/lib/loans/service/links';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'loans.ask',
  params: idParams,
  body: z.object({}),
  response: loanLinkRow,
  service: ({ context, params }) => endLink(context, params.id),
});
