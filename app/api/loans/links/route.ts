import { loanLinkMade, loanLinkPage, loanLinkRequest } from '@/lib/loans/link-schema';
import { listLinks, makeLink } from '@/lib/loans/service/links';
import { defineRoute } from '@/lib/platform/http';
import { pageQuery } from '@/lib/platform/paging';

export const GET = defineRoute({
  permission: 'loans.ask',
  query: pageQuery,
  response: loanLinkPage,
  service: ({ actor, query }) => listLinks(actor, query),
});

export const POST = defineRoute({
  permission: 'loans.ask',
  body: loanLinkRequest,
  response: loanLinkMade,
  service: ({ context, body }) => makeLink(context, body),
});
