import 'server-only';
import { lookup } from 'node:dns/promises';
import { request as requestHttp } from 'node:http';
import { request as requestHttps } from 'node:https';
import type { LookupFunction } from 'node:net';
import { isPublicAddress } from './public-address';

const TIME_LIMIT_MS = 10_000;
const LARGEST_ANSWER_BYTES = 64 * 1024;
const TOO_LATE = 'It did not answer within 10 s.';

/** Why something was not sent, or not taken; the message is for the person who registered the address. */
export class OutsideError extends Error {}

/** @param development http and addresses of this machine and network are allowed. */
export type OutsideOptions = { development: boolean };

/**
 * Reads an address that is to be called from here.
 * @throws OutsideError where it is none, not https, or carries a name and password.
 */
export function readOutsideAddress(text: string, { development }: OutsideOptions): URL {
  if (!URL.canParse(text)) throw new OutsideError('This is no address. Write it whole: https://…');
  const url = new URL(text);
  if (url.protocol !== 'https:' && !(development && url.protocol === 'http:'))
    throw new OutsideError('The address must begin with https://.');
  if (url.username !== '' || url.password !== '')
    throw new OutsideError('Leave name and password out of the address; what is sent is signed.');
  return url;
}

/** The address to connect to: every address of the name must be public, so that none of them can be chosen later. */
async function resolvePublic(url: URL, { development }: OutsideOptions, signal: AbortSignal) {
  const host = url.hostname.replace(/^\[|\]$/g, '');
  const late = new Promise<never>((_, reject) => {
    signal.addEventListener('abort', () => reject(new OutsideError(TOO_LATE)), { once: true });
  });
  const found = await Promise.race([lookup(host, { all: true }).catch(() => []), late]);
  const [first] = found;
  if (first === undefined) throw new OutsideError(`The name ${host} is not known.`);
  if (!development && !found.every(({ address }) => isPublicAddress(address)))
    throw new OutsideError(`${host} is no address of the open internet, so nothing is sent there.`);
  return first;
}

/**
 * Posts JSON to an address outside and waits for its answer. It connects to the very address that was checked, follows
 * no redirect, and gives up after 10 s or 64 kB.
 * @throws OutsideError for whatever is not an answer of 200 to 299.
 */
export async function postOutside(
  text: string,
  body: string,
  headers: Readonly<Record<string, string>>,
  options: OutsideOptions,
): Promise<void> {
  const url = readOutsideAddress(text, options);
  const signal = AbortSignal.timeout(TIME_LIMIT_MS);
  const { address, family } = await resolvePublic(url, options, signal);
  const checked: LookupFunction = (_host, { all }, done) => {
    if (all === true) done(null, [{ address, family }]);
    else done(null, address, family);
  };
  const status = await send(url, body, headers, { lookup: checked, signal });
  if (status >= 300 && status < 400)
    throw new OutsideError(`It answered ${status}: redirects are not followed.`);
  if (status < 200 || status >= 300) throw new OutsideError(`It answered ${status}.`);
}

function send(
  url: URL,
  body: string,
  headers: Readonly<Record<string, string>>,
  reach: { lookup: LookupFunction; signal: AbortSignal },
): Promise<number> {
  const start = url.protocol === 'https:' ? requestHttps : requestHttp;
  return new Promise((resolve, reject) => {
    const fail = (error: Error) =>
      reject(
        error instanceof OutsideError
          ? error
          : new OutsideError(reach.signal.aborted ? TOO_LATE : error.message, { cause: error }),
      );
    const request = start(url, {
      method: 'POST',
      // A connection of its own: one kept from before could lead elsewhere.
      agent: false,
      ...reach,
      headers: {
        ...headers,
        'content-type': 'application/json',
        'content-length': Buffer.byteLength(body),
        'user-agent': 'Furcula',
      },
    });
    request.on('error', fail);
    request.on('response', (response) => {
      let bytes = 0;
      response.on('error', fail);
      response.on('data', (chunk: Buffer) => {
        bytes += chunk.byteLength;
        if (bytes <= LARGEST_ANSWER_BYTES) return;
        fail(new OutsideError('Its answer is longer than 64 kB.'));
        request.destroy();
      });
      response.on('end', () => resolve(response.statusCode ?? 0));
    });
    request.end(body);
  });
}
