import { invitation, linkAnswer, peoplePage, peopleQuery } from '@/lib/people/schema';
import { invitePerson, listPeople } from '@/lib/people/service';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'people.manage',
  query: peopleQuery,
  response: peoplePage,
  service: ({ actor, query }) => listPeople(actor, query),
});

export const POST = defineRoute({
  permission: 'people.manage',
  body: invitation,
  response: linkAnswer,
  service: ({ context, body }) => invitePerson(context, body),
});
