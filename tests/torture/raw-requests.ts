/** What no schema describes: addresses, methods and heads that the server itself must turn away. */
const RAW: readonly { path: string; init?: RequestInit }[] = [
  { path: '/api/%E0%A4%A' },
  { path: '/api/people/%00' },
  { path: '/api/people/%' },
  { path: `/api/people/${'x'.repeat(8_000)}` },
  { path: '/api/../../etc/passwd' },
  { path: '/api/people?size=%E0%A4%A' },
  { path: '//api//people//' },
  { path: '/api/people', init: { method: 'DELETE' } },
  { path: '/api/people', init: { method: 'PATCH', body: '{}' } },
  { path: '/api/salvage', init: { method: 'POST' } },
  { path: '/api/salvage', init: { method: 'POST', body: 'x'.repeat(3_000_000) } },
  {
    path: '/api/salvage',
    init: { method: 'POST', headers: { origin: 'https://elsewhere.example' }, body: '{}' },
  },
  { path: '/api/salvage', init: { method: 'POST', headers: { origin: 'null' }, body: '{}' } },
  { path: '/api/salvage', init: { headers: { authorization: 'Bearer' } } },
  { path: '/api/salvage', init: { headers: { authorization: `Bearer ${'x'.repeat(4_000)}` } } },
  { path: '/api/salvage', init: { headers: { cookie: 'next-auth.session-token=x.y.z' } } },
  { path: '/api/salvage', init: { headers: { cookie: `next-auth.session-token=${'x'.repeat(5_000)}` } } },
  { path: '/api/auth/nothing' },
  { path: '/api/auth/callback/nothing' },
  { path: '/api/auth/signin/nothing' },
  {
    path: '/api/auth/callback/credentials',
    init: { method: 'POST', body: 'csrfToken=x&email=%00&password=%00' },
  },
  {
    path: '/api/auth/callback/credentials',
    init: { method: 'POST', body: '{', headers: { 'content-type': 'application/json' } },
  },
  { path: '/api/auth/_log', init: { method: 'POST', body: '{}' } },
  { path: '/api/drop-off/x', init: { method: 'POST', body: '{"__proto__":{}}' } },
  { path: '/api/set-up', init: { method: 'POST', body: '[]' } },
  { path: '/birds/%00' },
  { path: '/birds/x?y=%00' },
  { path: '/catalogue?q=%00&after=x' },
  { path: '/sign-in?callbackUrl=javascript:alert(1)' },
];

/** Sends each as somebody with this cookie and as nobody; returns those that were answered with a failure of the server. */
export async function sendRawRequests(
  address: string,
  cookie: string,
): Promise<{ sent: number; faults: string[] }> {
  const faults: string[] = [];
  let sent = 0;
  for (const { path, init = {} } of RAW) {
    for (const who of [cookie, '']) {
      const headers = { cookie: who, ...(init.headers as Record<string, string>) };
      const answer = await fetch(`${address}${path}`, { ...init, headers, redirect: 'manual' });
      await answer.arrayBuffer();
      sent += 1;
      if (answer.status >= 500)
        faults.push(`${init.method ?? 'GET'} ${path.slice(0, 80)} answered ${answer.status}`);
    }
  }
  return { sent, faults };
}
