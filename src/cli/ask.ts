import { confirm, isCancel, select, text } from "@clack/prompts";
import { visible } from "../model/unseen.ts";
import type { Ask } from "./recordIo.ts";

const REQUIRED = (value: string | undefined): string | undefined =>
  value === undefined || value.trim() === "" ? "Something must stand here." : undefined;

/** Questions at the terminal. */
export const terminalAsk: Ask = {
  async text(question, given = {}) {
    const { placeholder, optional = false, wrong } = given;
    const validate = (value: string | undefined): string | undefined => {
      const isEmpty = value === undefined || value.trim() === "";
      if (isEmpty) return optional || placeholder !== undefined ? undefined : REQUIRED(value);
      return wrong?.(value) ?? undefined;
    };
    const answer = await text({
      message: visible(question),
      ...(placeholder === undefined ? {} : { placeholder, defaultValue: placeholder }),
      validate,
    });
    return isCancel(answer) ? null : (answer ?? "");
  },
  async choose<T extends string>(question: string, choices: readonly { value: T; label: string; hint?: string }[]) {
    const options = choices.map(({ value, label, hint }): { value: string; label: string; hint?: string } => ({
      value,
      label: visible(label),
      ...(hint === undefined ? {} : { hint: visible(hint) }),
    }));
    const answer = await select({ message: visible(question), options });
    return choices.find(({ value }) => value === answer)?.value ?? null;
  },
  async confirm(question) {
    const answer = await confirm({ message: visible(question) });
    return isCancel(answer) ? null : answer;
  },
};
