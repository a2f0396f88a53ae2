import { createHmac } from 'node:crypto';

/** HMAC-SHA256 (RFC 2104) over timestamp, a full stop, and the body as it is sent; in hexadecimal. */
export const signBody = (secret: string, timestamp: string, body: string): string =>
  `sha256=${createHmac('sha256', secret).update(`${timestamp}.${body}`).digest('hex')}`;
