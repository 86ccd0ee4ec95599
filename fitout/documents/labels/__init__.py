"""Labels to stick on: one for each part that is cut.

What belongs here: the code that a reader decodes (`code`), what stands on one label and what is
left out of a small one (`label`), labels put on sheets (`book`). What does not: which way up a
part lies (`documents.facing`), sheets of labels as entries (`model.documents`).

Another line on a label joins `LINES` in `label`, at the place that says when it is left out.
"""
