"""The job document: what was asked, measured and chosen, as one text file.

Takes TOML (or readings as CSV), gives a frozen `Job` in inches, or every fault of the file at once with
line, key and advice. Knows nothing of numerics: what readings mean for the wall is `survey`'s business.
"""
