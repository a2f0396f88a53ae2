import { Transform } from 'node:stream';

export type TextEncoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252';

/** The signs that Windows-1252 has where Latin-1 has controls, 0x80 to 0x9F; five places are empty there. */
const HIGH_SIGNS = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ';

/** Bytes to text, chunk by chunk; signs that are cut by a chunk are put together again. */
export function startDecoder(encoding: TextEncoding): {
  decode: (bytes: Uint8Array) => string;
  end: () => string;
} {
  if (encoding !== 'windows-1252') {
    const decoder = new TextDecoder(encoding);
    return { decode: (bytes) => decoder.decode(bytes, { stream: true }), end: () => decoder.decode() };
  }
  // Node 20's own decoder takes this encoding for Latin-1 and loses its quotation marks and dashes.
  const decode = (bytes: Uint8Array) =>
    Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength)
      .toString('latin1')
      .replace(/[\u0080-\u009f]/g, (sign) => HIGH_SIGNS[sign.charCodeAt(0) - 0x80] ?? sign);
  return { decode, end: () => '' };
}

export function decodeStream(encoding: TextEncoding): Transform {
  const decoder = startDecoder(encoding);
  return new Transform({
    transform(chunk: Buffer, _, done) {
      done(null, decoder.decode(chunk));
    },
    flush(done) {
      done(null, decoder.end());
    },
  });
}
