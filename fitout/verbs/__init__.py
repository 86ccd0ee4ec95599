"""The verbs of the command line, one a file: what each takes, says, and ends with.

What belongs here: arguments and their help, what is printed, exit codes. What does not: any
arithmetic; a verb calls `workflow` or `answers` and prints what they return. They are imported
where a verb runs, so that help, completion and a wrong command are there at once.

To add a verb: one file with `add(verbs)`, which declares it with an example in its help and
sets `run`, and its line in VERBS of `fitout.cli`.
"""
