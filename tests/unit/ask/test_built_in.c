#include "check.h"

#include "built_in.h"

#include <stdlib.h>

/* What the build packed is what the program reads from the same texts. */
static void packed_data_are_those_of_the_texts(void **state)
{
    (void)state;
    dw_data *texts = calloc(1, sizeof *texts), *read = NULL;
    assert_non_null(texts);
    assert_int_equal(dw_read_data(NULL, NULL, texts), DW_OK);
    const dw_data *data = NULL;

    assert_int_equal(dw_built_in_find(NULL, NULL, &read, &data), DW_OK);
    assert_memory_equal(data, texts, sizeof *data);
    if (dw_built_in_data != NULL) {
        assert_null(read);
        assert_ptr_equal(data, &dw_built_in_data->data);
    } else {
        assert_ptr_equal(data, read);
    }
    free(read);

    assert_int_equal(dw_built_in_find(DW_CONFIG_DIR, NULL, &read, &data), DW_OK);
    assert_ptr_equal(data, read);
    assert_memory_equal(data, texts, sizeof *data);
    free(read);
    free(texts);
}

/* No byte of the data may be lost because it does not fill a word. */
static void words_cover_the_data(void **state)
{
    (void)state;
    const dw_packed *packed = NULL;
    assert_int_equal(sizeof packed->word, sizeof packed->data);
}

static void faults_are_told(void **state)
{
    (void)state;
    dw_data *read = NULL;
    const dw_data *data = NULL;
    assert_int_equal(dw_built_in_find(NULL, NULL, NULL, &data), DW_ERR_ARG);
    assert_int_equal(dw_built_in_find(NULL, NULL, &read, NULL), DW_ERR_ARG);
    assert_int_equal(dw_built_in_find("/tmp/no/such/directory", NULL, &read, &data), DW_ERR_IO);
    assert_null(read);
    assert_null(data);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(packed_data_are_those_of_the_texts),
        cmocka_unit_test(words_cover_the_data),
        cmocka_unit_test(faults_are_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
