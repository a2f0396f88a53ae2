import { numbersAnswer, numbersQuery } from '@/lib/catalogue/figures-wire';
import { showNumbers } from '@/lib/catalogue/service/figures';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'numbers.see',
  query: numbersQuery,
  response: numbersAnswer,
  service: ({ actor, query }) => showNumbers(actor, query),
});
