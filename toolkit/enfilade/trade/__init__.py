"""The trade's calculations, one subject a module: numbers in, numbers and their working out.

Published values come from `enfilade.standards`; `by` names the yardstick, the general one when None.
"""
