/* file_form.h: a JSON file told in other words that mean the same. */
#ifndef WF_DRAWN_FILE_FORM_H
#define WF_DRAWN_FILE_FORM_H

#include "drawn/property.h"

/* The text in another form, to be freed; the program ends where it is no JSON. */
char *file_form(const char *text, enum file_form form, struct dice *d);

#endif
