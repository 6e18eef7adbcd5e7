import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';
import { findBrokenRules, type ImportEdge } from './import-rules.ts';

const root = join(import.meta.dirname, '../..');

/** Every import of a source file, as rooms: `web/map`, `shared/network`, or the name of a package. */
function listEdges(): ImportEdge[] {
  const edges: ImportEdge[] = [];
  for (const top of ['web', 'server', 'shared']) {
    for (const file of readdirSync(join(root, top), { recursive: true, encoding: 'utf8' })) {
      if (!/\.tsx?$/.test(file) || /\.test\.tsx?$/.test(file) || file.endsWith('.d.ts')) continue;
      const path = join(root, top, file);
      const text = readFileSync(path, 'utf8');
      for (const [, from] of text.matchAll(/(?:from|import|import\()\s*['"]([^'"]+)['"]/g)) {
        const target = from?.startsWith('.') ? relative(root, join(path, '..', from)) : (from ?? '');
        edges.push({ file: join(top, file), target });
      }
    }
  }
  return edges;
}

describe('import rules', () => {
  const edges = listEdges();

  it('are kept by every file', () => {
    expect(edges.length).toBeGreaterThan(200);
    expect(findBrokenRules(edges)).toEqual([]);
  });

  it.each([
    ['web/design/panel.tsx', 'server/app.ts', 'web/design → server'],
    ['server/app.ts', 'web/words.ts', 'server → web'],
    ['shared/network/x.ts', 'server/app.ts', 'shared/network → server'],
    ['shared/network/x.ts', 'shared/placement/rules.ts', 'shared/network → shared/placement'],
    ['shared/osm/x.ts', 'node:fs', 'shared/osm → node:fs'],
    ['web/survey/x.tsx', 'maplibre-gl', 'web/survey → maplibre-gl'],
    ['web/session/x.ts', 'react', 'web/session → react'],
    ['server/routes/x.ts', 'react', 'server/routes → react'],
  ])('name the two rooms: %s must not import %s', (file, target, rooms) => {
    const broken = findBrokenRules([{ file, target }]);
    expect(broken).toHaveLength(1);
    expect(broken[0]).toContain(rooms);
  });

  it('leave clock, chance, network and page out of the pure core', () => {
    const impure =
      /\b(Date\.now|new Date\(\)|Math\.random|performance\.now|fetch\(|document\.|window\.|process\.|setTimeout|crypto\.)/;
    const found = readdirSync(join(root, 'shared'), { recursive: true, encoding: 'utf8' })
      .filter((file) => file.endsWith('.ts') && !file.endsWith('.test.ts'))
      .filter((file) => impure.test(stripComments(readFileSync(join(root, 'shared', file), 'utf8'))));
    expect(found).toEqual([]);
  });
});

function stripComments(text: string): string {
  return text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/\/\/.*$/gm, '');
}
