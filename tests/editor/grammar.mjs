// Colours lines of fingering text as an editor does.
import fs from 'node:fs';
import path from 'node:path';
import { createRequire } from 'node:module';

// The grammar of examples/editor, ready to use.
export async function loadGrammar(modules, root) {
  const require = createRequire(path.join(modules, 'packages.js'));
  const textmate = require('vscode-textmate');
  const oniguruma = require('vscode-oniguruma');
  const engine = path.join(modules, 'vscode-oniguruma', 'release', 'onig.wasm');
  await oniguruma.loadWASM(fs.readFileSync(engine).buffer);
  const file = path.join(root, 'examples', 'editor', 'yubifu.tmLanguage.json');
  const registry = new textmate.Registry({
    onigLib: Promise.resolve({
      createOnigScanner: (patterns) => new oniguruma.OnigScanner(patterns),
      createOnigString: (text) => new oniguruma.OnigString(text),
    }),
    loadGrammar: async () => textmate.parseRawGrammar(fs.readFileSync(file, 'utf8'), file),
  });
  const grammar = await registry.loadGrammar('source.yubifu');
  return { grammar, start: textmate.INITIAL };
}

// The tokens of a text, line by line: { line, text, scopes }, scopes from the root to the nearest.
export function tokensOf({ grammar, start }, text) {
  const tokens = [];
  let state = start;
  text.split(/\r\n|\r|\n/).forEach((line, index) => {
    const result = grammar.tokenizeLine(line, state);
    state = result.ruleStack;
    for (const { startIndex, endIndex, scopes } of result.tokens) {
      tokens.push({ line: index + 1, text: line.slice(startIndex, endIndex), scopes });
    }
  });
  return tokens;
}
