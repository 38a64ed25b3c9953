import { FLOWS_DIRECTORY, loadBook } from '../flow/load.ts';
import { checkFlows } from '../flow/check.ts';
import { ProblemsError } from '../reading/yaml.ts';

/** `npm run check [-- DIRECTORY]`: reads all flows, walks every state of them, and says what is wrong. */

function check(directory: string): number {
  const read = loadBook(directory);
  const { findings, steps, passages } = checkFlows(read);
  for (const { rule, where, message, path } of findings) {
    console.log(`${where}: ${rule}: ${message}`);
    if (path.length > 0) console.log(`    path: ${path.join(' > ')}`);
  }
  const { reviewed } = read.limits.value;
  if (reviewed.by === null || reviewed.on === null) {
    console.log(
      'limits.yaml: not reviewed yet. The thresholds need the sign-off of a licensed clinician of the operator.',
    );
  }
  console.log(`${read.flows.length} flows, ${steps} steps, ${passages} turns walked: ${findings.length} findings`);
  return findings.length === 0 ? 0 : 1;
}

try {
  process.exitCode = check(process.argv[2] ?? FLOWS_DIRECTORY);
} catch (error) {
  if (!(error instanceof ProblemsError)) throw error;
  console.error(error.message);
  process.exitCode = 1;
}
