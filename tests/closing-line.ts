import type { Reporter, TestModule } from 'vitest/node';

/** Suites that this machine could not run, with the reason, which stands in their titles. */
function leftOut(modules: ReadonlyArray<TestModule>): readonly string[] {
  return modules.flatMap((module) =>
    [...module.children.allSuites()]
      .filter((suite) => suite.name.includes(': left out, '))
      .map((suite) => `${suite.name} (${module.relativeModuleId})`),
  );
}

/** Prints, last of all, one plain line with the counts, for people and scripts that read nothing else. */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: ReadonlyArray<TestModule>): void {
    const counts = { passed: 0, failed: 0, skipped: 0 };
    for (const module of modules) {
      if (module.state() === 'failed' && [...module.children.allTests()].length === 0) counts.failed += 1;
      for (const test of module.children.allTests()) {
        const { state } = test.result();
        if (state !== 'pending') counts[state] += 1;
      }
    }
    for (const title of leftOut(modules)) console.log(`Left out: ${title}`);
    console.log(`\n${counts.passed} passed, ${counts.failed} failed, ${counts.skipped} skipped`);
  }
}
