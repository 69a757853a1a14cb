"""A small table for tests; its numbers are made up."""

from __future__ import annotations

TEXT = """\
# table: made up
# source: Nowhere 1, Table 2
# address: none
# scope: tests
# units: snow_psf = psf, width_ft = ft, span = in, studs = count
# read: 2026
# checked: not cross-checked
# keys: kind
# axes: snow_psf next, width_ft linear
# values: span falls linear, studs rises steps
# texts: status
# note: first
# note: second
kind,snow_psf,width_ft,span,studs,status
roof,30,12,100,1,read
roof,30,24,80,2,read
roof,50,12,90,1,read
roof,50,24,60,2,memory
roof,50,36,40,3,read
floor,50,24,50,NR,read
"""
