"""fitout: measured cargo bay in; a checked fit-out and its cut files out.

The flow is `design_file -> survey -> arrange -> modules -> checks -> cutting -> documents`;
`fitout.workflow` runs it. Each room's own docstring says what belongs there.
"""

__version__ = "0.1.0"
