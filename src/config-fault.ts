/** What is wrong with a variable of the environment: the rest of a sentence that its name begins. */

export class Fault {
  constructor(readonly sentence: string) {}
}
