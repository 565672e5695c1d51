"""What went wrong in the use of the tool itself (faults in the owner's file are `Problem`s, never exceptions)."""


class CordwrightError(Exception):
    """Anything Cordwright refuses to do; the message says what to do instead."""


class InputError(CordwrightError):
    """A value that no building can have: wrong sign, not a number, an impossible shape."""


class OutOfRangeError(CordwrightError):
    """A value outside the range for which the formula's source speaks; no number is given."""


class DataError(CordwrightError):
    """A packaged table that is not as its readers expect."""


class FileChangedError(CordwrightError):
    """The owner's file changed on disk since it was read; nothing was written."""


class StoppedError(CordwrightError):
    """The owner stopped a study before its end; nothing of it was kept."""
