import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';

const USUAL_PLACES = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];

const QUIET = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** Starts Chromium: the one that the variable CHROMIUM names, or the one of the machine. Without any the tests fail. */
export async function startChromium(): Promise<Browser> {
  const named = process.env.CHROMIUM;
  const executablePath = [...(named === undefined ? [] : [named]), ...USUAL_PLACES].find(place =>
    existsSync(place),
  );
  if (executablePath === undefined) {
    throw new Error(
      `the browser tests need Chromium: install it, or name it with CHROMIUM=/path/to/chromium (looked at ${USUAL_PLACES.join(', ')})`,
    );
  }
  return chromium.launch({ executablePath, args: QUIET });
}
