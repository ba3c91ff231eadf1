/* Which row of the table of outputs a key has. Each line of the input: command, tab, key. Each line of the
 * output: the key of the row, its kind and the SI unit of a number, with tabs between; "-" for a key that has
 * none. */
#include <stdio.h>
#include <string.h>

#include "outputs.h"

int main(void)
{
    static const char *const kinds[] = {[DW_OUTPUT_NUMBER] = "number", [DW_OUTPUT_COUNT] = "count",
                                        [DW_OUTPUT_YES_NO] = "yes or no", [DW_OUTPUT_WORD] = "word"};
    char line[1024];
    while (fgets(line, sizeof line, stdin) != NULL) {
        line[strcspn(line, "\n")] = '\0';
        char *key = strchr(line, '\t');
        if (key == NULL) return 1;
        *key++ = '\0';
        const dw_output_row *row = dw_output_find(line, key);
        (void)printf("%s\t%s\t%s\n", row != NULL ? row->key : "-", row != NULL ? kinds[row->kind] : "-",
                     row != NULL && row->kind == DW_OUTPUT_NUMBER ? dw_dim_si_unit(row->number.dim) : "");
    }
    return 0;
}
