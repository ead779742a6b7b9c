"""A tiny plan, and lists of invented schools."""

PLAN = """
title = "Tiny check"
seed = 3
sections = ["A", "B"]  # of whoever makes it alone
[elements]
meters = ["3/4", "4/4"]
notes = ["whole", "half", "quarter"]
rests = ["half", "quarter"]
[[part]]
family = "measure-completion"
ask = "finish-measure"
items = 2
"""
LIST = """school,section
Alder Creek,Band 6
Alder Creek,Band 7
Birch Hill,Band 6
Birch Hill,***
Cedar Flat,Orchestra
"""
REFUSED = (
    "Birch Hill, quiz: refused: section '***' has no letter a-z or digit to name its folder by: give it a name such as "
    "'Period 1'\n"
)
# Columns of the published tables of OneRoster CSV 1.1, orgs.csv and classes.csv (some of them).
ORGS = """sourcedId,status,dateLastModified,name,type,identifier,parentSourcedId
d1,active,,Maple County,district,,
s1,active,,Alder Creek,school,17,d1
s2,active,,"Birch Hill, Upper",school,18,d1
s3,tobedeleted,,Cedar Flat,school,19,d1
s4,active,,Dogwood,school,20,d1
"""
CLASSES = """sourcedId,status,dateLastModified,title,grades,courseSourcedId,classCode,schoolSourcedId,subjects
c1,active,,Band 6,06,k1,,s1,"Music,Arts"
c2,active,,Math 6,06,k2,,s1,Math
c3,active,,Band 7,07,k1,,s2,music
c4,tobedeleted,,Band 8,08,k1,,s2,Music
c5,active,,Band 5,05,k1,,s3,Music
c6,active,,Math 7,07,k2,,s4,Math
c7,active,,Choir,07,k3,,s1,Music
"""
