import { loanPapers } from '@/lib/loans/service/ask';
import { defineFileRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const GET = defineFileRoute({
  permission: 'loans.see',
  params: idParams,
  service: ({ actor, params }) => loanPapers(actor, params.id),
});
