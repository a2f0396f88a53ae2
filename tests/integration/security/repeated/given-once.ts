/** Commands whose answer is given once, each with what it holds: a repeated delivery is told that it was carried out. */
export const GIVEN_ONCE: Record<string, string> = {
  'POST api/exchange/tokens': 'the token',
  'POST api/exchange/webhooks': 'the secret that signs',
  'POST api/loans/links': 'the address of the link',
  'POST api/people': 'the address of the link',
  'POST api/people/[id]/export': 'all that is kept of a person',
  'POST api/people/[id]/reset-link': 'the address of the link',
  'POST api/salvage/slips': 'the address on the slip',
  'POST api/salvage/[id]/finder': 'the finder’s contact data',
  'POST api/salvage/[id]/finder/change': 'the finder’s contact data were in the request',
  'POST api/salvage/[id]/finder/erase': 'nothing of a finder is to be kept',
  'POST api/salvage/[id]/finder/export': 'all that is kept of a finder',
};
