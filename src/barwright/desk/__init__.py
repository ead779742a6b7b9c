"""The desk: the commands as pages on the teacher's own computer. A thin layer; no rule of the job lives here."""
