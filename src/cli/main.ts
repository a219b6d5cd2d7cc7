#!/usr/bin/env node
import { EXIT } from './command.ts';
import { fileSystemText } from './file-system-text.ts';
import { run } from './run.ts';

// A reader that closes the pipe early, such as head, is no error.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit();
  process.stderr.write(`forefoot: the result cannot be printed: ${fileSystemText(error)}\n`);
  process.exit(EXIT.unusable);
});

process.exitCode = await run(process.argv.slice(2), {
  out: text => void process.stdout.write(text),
  log: text => void process.stderr.write(text),
  // A terminal of no width, as some terminal recorders have, would make a progress display wrap without end.
  terminal: process.stderr.isTTY && process.stderr.columns > 0,
});
