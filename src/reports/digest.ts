/** SHA-256 of a text in UTF-8, by the Web Crypto of the browser or of Node. */
export async function sha256(text: string): Promise<Uint8Array> {
  return new Uint8Array(await globalThis.crypto.subtle.digest('SHA-256', new TextEncoder().encode(text)));
}

/** SHA-256 of a text in hexadecimal. */
export async function sha256Hex(text: string): Promise<string> {
  return Array.from(await sha256(text), byte => byte.toString(16).padStart(2, '0')).join('');
}

/** SHA-256 of a text in base 64, as a content security policy asks. */
export async function sha256Base64(text: string): Promise<string> {
  return btoa(String.fromCharCode(...(await sha256(text))));
}
