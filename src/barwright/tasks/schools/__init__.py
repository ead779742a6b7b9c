"""One plan for many schools: their lists, their quizzes, what was done already, and the page of them all."""
