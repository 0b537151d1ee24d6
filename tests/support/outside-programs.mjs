// Runs before the tests: the programs from outside that read our files back have to be there. Where they are missing, Debian's
// packages are installed; where that cannot be done, one sentence names what to install.
import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'

/** Each with Debian's package, and a call that ends with status 0 only where the program is there. */
const PROGRAMS = [
  // The browser that the page is tested in, where the tests look for it.
  { name: 'chromium', debian: 'chromium', call: ['test', '-x', process.env.CHROMIUM ?? '/usr/bin/chromium'] },
  { name: 'midicsv', debian: 'midicsv', call: ['sh', '-c', 'command -v midicsv'] },
  // Debian's own Python: another one in the path has not got its packages.
  { name: 'mido for /usr/bin/python3', debian: 'python3-mido', call: ['/usr/bin/python3', '-c', 'import mido'] },
]

function run([program, ...args], options = {}) {
  return spawnSync(program, args, { encoding: 'utf8', ...options })
}

const missing = () => PROGRAMS.filter(({ call }) => run(call).status !== 0)

function install(packages) {
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' }
  const wait = ['-o', 'DPkg::Lock::Timeout=300']
  process.stdout.write(`Installing ${packages.join(' and ')} for the tests.\n`)
  // An outdated list of packages may still do; whether the programs are there afterwards is what counts.
  run(['apt-get', ...wait, 'update', '-qq'], { env })
  return run(['apt-get', ...wait, 'install', '-y', '-qq', '--no-install-recommends', ...packages], { env })
}

const before = missing()
if (before.length > 0) {
  const packages = before.map((program) => program.debian)
  const canInstall = existsSync('/etc/debian_version') && process.getuid?.() === 0
  const outcome = canInstall ? install(packages) : undefined
  const after = missing()
  if (after.length > 0) {
    const names = after.map((program) => program.name).join(' and ')
    const reason = outcome?.stderr?.trim().split('\n').at(-1)
    process.stderr.write(
      `The tests need ${names}: install them first (on Debian: apt-get install ${packages.join(' ')})` +
        `${reason ? `; trying to do so ended with "${reason}"` : ''}.\n`,
    )
    process.exitCode = 1
  }
}
