"""Files that people send: no more of one is taken in than any page reads."""

from django.core.files.uploadhandler import FileUploadHandler, StopUpload

#: A byte more than the largest file that a page takes, so that the page can say it is too large.
MOST_TAKEN = 5 * 1024 * 1024 + 1


class BoundedUpload(FileUploadHandler):
    """Counts what comes and, past the bound, lets the rest go by without keeping any of it.

    It stands before the handlers that keep files, and keeps none itself.
    """

    taken = 0

    def receive_data_chunk(self, raw_data: bytes, start: int) -> bytes:
        """Pass a piece on to the next handler, unless all pieces together are too much."""
        self.taken += len(raw_data)
        if self.taken > MOST_TAKEN + self.chunk_size:
            if self.request is not None:
                self.request.META["UPLOAD_TOO_LARGE"] = True
            raise StopUpload(connection_reset=False)
        return raw_data

    def file_complete(self, file_size: int) -> None:
        """Leave the file to the next handler."""
