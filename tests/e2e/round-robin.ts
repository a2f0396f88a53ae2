import http, { type IncomingHttpHeaders, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';

/** Names, in a request, the process it goes to; else they take turns. */
export const TO = 'x-test-to';
/** Says, in an answer, which process gave it. */
export const BY = 'x-test-by';
/** Where all clients seem to come from: an address for documentation (RFC 5737), so that no other test shares its limits. */
const CLIENT = '203.0.113.7';
const OF_ONE_HOP = ['connection', 'keep-alive', 'transfer-encoding', 'upgrade', TO];

/**
 * A reverse proxy as small as can be: keeps the Host, says X-Forwarded-*, passes answers on as they come, and asks the
 * next process where one takes no connection. A connection that breaks later is a 502: whether the request was carried
 * out is for the client to find out.
 */
export class RoundRobin {
  private turn = 0;
  /** Paths that are answered 503, as by a proxy with nothing behind it; each as often as it says. */
  readonly refused = new Map<string, number>();

  private constructor(
    private readonly server: http.Server,
    private readonly ports: readonly number[],
  ) {
    server.on('request', (request, response) => void this.pass(request, response));
  }

  static async before(ports: readonly number[]): Promise<RoundRobin> {
    const server = http.createServer();
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    return new RoundRobin(server, ports);
  }

  get address(): string {
    return `http://127.0.0.1:${(this.server.address() as AddressInfo).port}`;
  }

  close(): void {
    this.server.close();
    this.server.closeAllConnections();
  }

  private async pass(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const left = this.refused.get(request.url ?? '') ?? 0;
    if (left > 0) {
      this.refused.set(request.url ?? '', left - 1);
      return void response.writeHead(503).end();
    }
    const chunks: Buffer[] = [];
    for await (const chunk of request) chunks.push(chunk as Buffer);
    const named = request.headers[TO];
    if (named === undefined) this.turn += 1;
    const first = named === undefined ? this.turn : Number(named);
    this.ask(request, response, { body: Buffer.concat(chunks), at: first, tries: 0 });
  }

  private ask(
    request: IncomingMessage,
    response: ServerResponse,
    { body, at, tries }: { body: Buffer; at: number; tries: number },
  ): void {
    const index = at % this.ports.length;
    const upstream = http.request(
      {
        host: '127.0.0.1',
        port: this.ports[index],
        method: request.method,
        path: request.url,
        headers: headersOnward(request.headers),
        agent: false,
      },
      (answer) => {
        response.writeHead(answer.statusCode ?? 502, { ...answer.headers, [BY]: String(index) });
        response.flushHeaders();
        answer.pipe(response);
        answer.on('error', () => response.destroy());
      },
    );
    upstream.on('error', (error: NodeJS.ErrnoException) => {
      if (response.headersSent) response.destroy();
      else if (error.code === 'ECONNREFUSED' && tries + 1 < this.ports.length)
        this.ask(request, response, { body, at: at + 1, tries: tries + 1 });
      else response.writeHead(502).end();
    });
    response.on('close', () => upstream.destroy());
    upstream.end(body);
  }
}

function headersOnward(headers: IncomingHttpHeaders): IncomingHttpHeaders {
  const kept = Object.entries(headers).filter(([name]) => !OF_ONE_HOP.includes(name));
  return {
    ...Object.fromEntries(kept),
    'x-forwarded-for': CLIENT,
    'x-forwarded-host': headers.host,
    'x-forwarded-proto': 'http',
  };
}
