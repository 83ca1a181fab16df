"""A browser driven through chromedriver by the W3C WebDriver protocol, nothing but the standard library."""

import json
import shutil
import socket
import subprocess
import time
import urllib.error
import urllib.request


def missing():
    """Which of the two required programs is not installed, in words; empty if both are."""
    return " and ".join(name for name in ("chromium", "chromedriver") if not shutil.which(name))


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


class Browser:
    """One headless window. Close it, or use it in a with statement."""

    def __init__(self, width=1280, height=900):
        port = free_port()
        self.server = f"http://127.0.0.1:{port}"
        self.process = subprocess.Popen(
            ["chromedriver", f"--port={port}"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        self.wait_for_server()
        arguments = ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--hide-scrollbars",
                     f"--window-size={width},{height}"]
        wanted = {"browserName": "chrome", "goog:chromeOptions": {"args": arguments, "binary": shutil.which("chromium")},
                  "goog:loggingPrefs": {"browser": "ALL"}}
        answer = self.call("POST", "/session", {"capabilities": {"alwaysMatch": wanted}})
        self.session = "/session/" + answer["sessionId"]

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.close()

    def close(self):
        try:
            self.call("DELETE", self.session)
        finally:
            self.process.terminate()
            self.process.wait(10)

    def wait_for_server(self):
        for _ in range(300):
            try:
                urllib.request.urlopen(self.server + "/status", timeout=5).read()
                return
            except (urllib.error.URLError, OSError):
                time.sleep(0.1)
        raise RuntimeError("chromedriver did not start within 30 s")

    def call(self, method, path, body=None):
        data = None if body is None else json.dumps(body).encode()
        request = urllib.request.Request(self.server + path, data, {"Content-Type": "application/json"}, method=method)
        try:
            with urllib.request.urlopen(request, timeout=120) as answer:
                return json.load(answer)["value"]
        except urllib.error.HTTPError as error:
            raise RuntimeError(json.load(error)["value"]["message"]) from None

    def post(self, path, body):
        return self.call("POST", self.session + path, body)

    def open(self, file, scheme="file://"):
        self.post("/url", {"url": scheme + str(file)})

    def run(self, script, *arguments):
        """The value of a script's return statement; `arguments` are its arguments."""
        return self.post("/execute/sync", {"script": script, "args": list(arguments)})

    def develop(self, command, **parameters):
        """A command of the browser's own development protocol."""
        return self.post("/goog/cdp/execute", {"cmd": command, "params": parameters})

    def resize(self, width, height):
        self.develop("Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=1, mobile=False)

    def media(self, kind="", scheme="light"):
        self.develop("Emulation.setEmulatedMedia", media=kind, features=[{"name": "prefers-color-scheme", "value": scheme}])

    def console(self):
        return self.post("/se/log", {"type": "browser"})

    def move(self, x, y):
        """Moves the pointer to a place in the window."""
        steps = [{"type": "pointerMove", "duration": 0, "x": round(x), "y": round(y), "origin": "viewport"}]
        self.post("/actions", {"actions": [{"type": "pointer", "id": "mouse", "parameters": {"pointerType": "mouse"},
                                            "actions": steps}]})

    def click(self):
        """The place of the pointer."""
        steps = [{"type": kind, "button": 0} for kind in ("pointerDown", "pointerUp")]
        self.post("/actions", {"actions": [{"type": "pointer", "id": "mouse", "parameters": {"pointerType": "mouse"},
                                            "actions": steps}]})

    def drag(self, x, y, by_x, by_y, steps=6):
        """Takes what is at a place in the window, moves it little by little, lets it go."""
        moves = [{"type": "pointerMove", "duration": 60, "x": round(x + by_x * i / steps), "y": round(y + by_y * i / steps),
                  "origin": "viewport"} for i in range(steps + 1)]
        self.post("/actions", {"actions": [{
            "type": "pointer", "id": "mouse", "parameters": {"pointerType": "mouse"},
            "actions": [moves[0], {"type": "pointerDown", "button": 0}, *moves[1:], {"type": "pointerUp", "button": 0}]}]})

    def press(self, *keys):
        steps = [{"type": kind, "value": key} for key in keys for kind in ("keyDown", "keyUp")]
        self.post("/actions", {"actions": [{"type": "key", "id": "keyboard", "actions": steps}]})

    def print(self, width_cm, height_cm):
        """The page as a PDF, base64."""
        return self.post("/print", {"page": {"width": width_cm, "height": height_cm}, "background": True})


TAB, ENTER, HOME, RIGHT, SPACE = "\ue004", "\ue007", "\ue011", "\ue014", " "
