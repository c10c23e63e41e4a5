// A page under test: joined as the shipped one is, but its answers come from the program as it was built for this machine.
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/// Joins the page into `folder` and gives its path. `joining` is the file that the build writes with all that it joins.
export function pageUnderTest(joining, address, folder) {
  const script = join(folder, 'module.js');
  writeFileSync(script, readFileSync(new URL('native_module.js', import.meta.url), 'utf8').replaceAll('@SERVER@', address));
  const [cmake, ...given] = readFileSync(joining, 'utf8').trim().split('\n').filter((line) => !line.startsWith('-DWORK='));
  const page = join(folder, 'dryfit.html');
  execFileSync(cmake, [...given, '-DWORK=' + join(folder, 'work'), '-DMODULE_SCRIPT=' + script, '-DCONNECT=' + address, '-DOUTPUT=' + page, '-P',
    new URL('../../../cli/pocket/join_page.cmake', import.meta.url).pathname]);
  return page;
}
