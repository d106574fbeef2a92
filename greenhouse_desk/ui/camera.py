"""The computer's camera: what it sees, picture by picture as they are wanted, or in words why it sees nothing."""

from __future__ import annotations

import logging
from typing import TYPE_CHECKING

from PySide6.QtCore import QCameraPermission, QCoreApplication, QObject, Qt, QTimer, Signal

if TYPE_CHECKING:
    from PySide6.QtMultimedia import QCamera, QCameraDevice, QMediaCaptureSession, QVideoFrame, QVideoSink

log = logging.getLogger(__name__)

INSTEAD = "or read a picture of the label."
NOT_LOADED = ("What looks through a camera cannot be loaded on this computer. Use a hand-held scanner, "
              f"{INSTEAD}")
NO_CAMERA = f"No camera is found. Plug one in and look again, {INSTEAD}"
NOT_ALLOWED = ("The system does not let this program use the camera. Allow it in the system's settings and look again, "
               f"{INSTEAD}")
FAILED = "The camera gives no picture: {}. Close what else uses it and look again, " + INSTEAD
PATIENCE_MS = 8000
"""How long the first picture may take: a camera that another program has may stay silent."""
WAITING = "Waiting for the camera's first picture."


class Camera(QObject):
    """`pictured(QImage)` what it sees, one picture for each `want()`; `told(words)` why there is none, or "".

    Qt's part for cameras is loaded at the first look: it can fail on a broken system.
    """

    pictured = Signal(object)
    told = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.sink: QVideoSink | None = None
        self._session: QMediaCaptureSession | None = None
        self._camera: QCamera | None = None
        self._devices: list[QCameraDevice] = []
        self._wanted = False
        self._patience = QTimer(self)
        self._patience.setSingleShot(True)
        self._patience.setInterval(PATIENCE_MS)
        self._patience.timeout.connect(lambda: self._fail("none came"))

    @property
    def names(self) -> list[str]:
        """The cameras that were found at the last look."""
        return [device.description() for device in self._devices]

    @property
    def looking(self) -> bool:
        """Whether a camera is open."""
        return self._camera is not None

    def look(self, which: int = 0) -> None:
        """Look through camera `which` of `names`, once the system allows it."""
        self.stop()
        application, permission = QCoreApplication.instance(), QCameraPermission()
        assert application is not None
        allowed = application.checkPermission(permission)
        if allowed is Qt.PermissionStatus.Undetermined:
            application.requestPermission(permission, self, lambda _answer: self._open(which))
        else:
            self._open(which)

    def want(self) -> None:
        """Give the next picture; those that come before it is wanted are let go."""
        self._wanted = True

    def stop(self) -> None:
        """Let go of the camera."""
        if self._camera is not None and self._session is not None:
            self._camera.stop()
            self._session.setCamera(None)  # type: ignore[arg-type]  # stubs forget that none may be set
            self._camera.deleteLater()
        self._camera, self._wanted = None, False
        self._patience.stop()

    def _open(self, which: int) -> None:
        application = QCoreApplication.instance()
        assert application is not None
        if application.checkPermission(QCameraPermission()) is Qt.PermissionStatus.Denied:
            self.told.emit(NOT_ALLOWED)
        elif not self._load():
            self.told.emit(NOT_LOADED)
        elif not self._devices:
            self.told.emit(NO_CAMERA)
        else:
            self._begin(self._devices[min(which, len(self._devices) - 1)])

    def _load(self) -> bool:
        """Load Qt's part, once, and see which cameras there are; False where it does not load."""
        try:
            from PySide6.QtMultimedia import QMediaCaptureSession, QMediaDevices, QVideoSink
        except ImportError as error:
            log.info("no camera part: %s", error)
            return False
        if self.sink is None:
            self.sink = QVideoSink(self)
            self.sink.videoFrameChanged.connect(self._on_frame)
            self._session = QMediaCaptureSession(self)
            self._session.setVideoSink(self.sink)
        self._devices = QMediaDevices.videoInputs()
        return True

    def _begin(self, device: QCameraDevice) -> None:
        from PySide6.QtMultimedia import QCamera

        assert self._session is not None
        log.info("looking through %s", device.description())
        self._camera = QCamera(device, self)
        self._camera.errorOccurred.connect(self._on_error)
        self._session.setCamera(self._camera)
        self.told.emit(WAITING)
        self._camera.start()
        self._patience.start()
        if self._camera.error() is not QCamera.Error.NoError:  # found while it was made, when nobody listened yet
            self._fail(self._camera.errorString())

    def _on_error(self, _error: object, words: str) -> None:
        self._fail(words)

    def _fail(self, words: str) -> None:
        log.info("camera: %s", words)
        self.stop()
        self.told.emit(FAILED.format(words.rstrip(".") or "it does not say why"))

    def _on_frame(self, frame: QVideoFrame) -> None:
        if not self._wanted or not frame.isValid():
            return
        picture = frame.toImage()
        if picture.isNull():
            return
        self._wanted = False
        self._patience.stop()
        self.told.emit("")
        self.pictured.emit(picture)
