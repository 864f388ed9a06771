import { execFile } from "node:child_process";
import { rename } from "node:fs/promises";
import { arch, platform } from "node:os";
import { promisify } from "node:util";

/** The calls by which a new site takes the place of the old one: a parameter, so that a stop at each can be tried out. */
export interface SwapCalls {
  /** Exchanges two folders in one step, so that neither name is ever without one; false where this system can't. */
  exchange(one: string, other: string): Promise<boolean>;
  rename(from: string, to: string): Promise<void>;
}

/**
 * Numbers of the system call `renameat2` of Linux, by Node's name of the processor (the kernel's tables: x86
 * syscall_64.tbl and include/uapi/asm-generic/unistd.h), and of what it is given (include/uapi/linux/fcntl.h and fs.h).
 */
const RENAMEAT2: Readonly<Record<string, number>> = { x64: 316, arm64: 276 };
const [AT_FDCWD, RENAME_EXCHANGE] = [-100, 2];
const SCRIPT = "exit(syscall(shift(@ARGV)+0, $ARGV[2]+0, $ARGV[0], $ARGV[2]+0, $ARGV[1], $ARGV[3]+0) == 0 ? 0 : 1)";

export const nodeSwap: SwapCalls = {
  // Node has no call for it; Perl, which comes with git on most systems, has all of them.
  async exchange(one, other) {
    const call = platform() === "linux" ? RENAMEAT2[arch()] : undefined;
    if (call === undefined) return false;
    const given = [String(call), one, other, String(AT_FDCWD), String(RENAME_EXCHANGE)];
    return promisify(execFile)("perl", ["-e", SCRIPT, ...given]).then(
      () => true,
      () => false,
    );
  },
  rename,
};
