// Reads AsyncAPI documents with the parser of its makers; ends with 1 where that finds an error.
import { readFileSync } from 'node:fs';
import { Parser } from '@asyncapi/parser';

let errors = 0;
for (const file of process.argv.slice(2)) {
  const { document, diagnostics } = await new Parser().parse(readFileSync(file, 'utf8'), { source: file });
  const found = diagnostics.filter((each) => each.severity === 0);
  for (const each of found) console.log(`${file}: ${each.path.join('.')}: ${each.message}`);
  errors += found.length + (document ? 0 : 1);
  console.log(`${file}: AsyncAPI ${document?.version() ?? 'unreadable'}, ${document?.allChannels().length ?? 0} channels, ${document?.allMessages().length ?? 0} messages`);
}
process.exit(errors === 0 ? 0 : 1);
