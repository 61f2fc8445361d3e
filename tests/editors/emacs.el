;;; -*- lexical-binding: t; -*-
;; Emacs with the package installed as its README says: `emacs --batch -l init.el -l emacs.el`, in a copy of the book.

(defconst patience 20)
(defconst book default-directory)

(defun fail (what &rest values)
  (princ (concat "not so: " (apply #'format what values) "\n") #'external-debugging-output)
  (kill-emacs 1))

(defun wait-for (what condition)
  (let ((end (time-add nil patience)))
    (while (not (funcall condition))
      (when (time-less-p end nil) (fail "%s" what))
      (accept-process-output nil 0.02)
      ;; Edits are sent when Emacs is idle, which a script never is.
      (eglot--signal-textDocument/didChange))))

(defun codes ()
  (mapcar #'flymake-diagnostic-text (flymake-diagnostics)))

(defun told (code)
  (seq-some (lambda (text) (string-search code text)) (codes)))

(defun go-to (text)
  (goto-char (point-min))
  (unless (search-forward text nil t) (fail "a line holds %s" text)))

(defun instead (text new)
  (go-to text)
  (replace-match new t t))

(defun open-sheet (path)
  (find-file (expand-file-name path book))
  (unless (eq major-mode 'rotorbook-mode) (fail "the mode is found: %s" major-mode))
  ;; Without a screen the hook's own call waits for a command that never comes.
  (unless (eglot-managed-p) (apply #'eglot (eglot--guess-contact)))
  (wait-for "the server answers" #'eglot-managed-p)
  (unless flymake-mode (flymake-mode 1))
  (current-buffer))

(defun hints ()
  (eglot--update-hints-1 (point-min) (point-max))
  (accept-process-output nil 0.1)
  (mapconcat (lambda (overlay)
               (if (overlay-get overlay 'eglot--inlay-hint)
                   (concat (overlay-get overlay 'before-string) (overlay-get overlay 'after-string))
                 ""))
             (overlays-in (point-min) (point-max)) "\n"))

(defmacro step (name &rest body)
  `(progn ,@body (princ (concat "  " ,name "\n"))))

(setq eglot-sync-connect patience
      eglot-confirm-server-edits nil
      eglot-events-buffer-config '(:size 0)
      make-backup-files nil
      create-lockfiles nil)

(defvar rotor (open-sheet "rotors/fan-wheel-315.rotor"))
(defvar setup (open-sheet "setups/fan-wheel-315-soft-bench.rotor"))
(set-buffer rotor)

(step "a diagnostic comes and goes while typing"
      (instead "3550 rpm" "3550 rp")
      (wait-for "an unknown unit is told" (lambda () (told "unknown-unit")))
      (instead "3550 rp" "3550 rpm")
      (wait-for "it goes with its cause" (lambda () (null (codes)))))

(step "hints are drawn"
      (eglot-inlay-hints-mode 1)
      (instead "    permissible unbalance => 81.7 g·mm\n" "")
      (wait-for "a result is shown behind its line" (lambda () (string-search "81.7 g·mm" (hints))))
      (primitive-undo 1 buffer-undo-list)
      (unless (string-search "=> 81.7" (buffer-string))
        (go-to "source: \"drawing note 7\"\n")
        (insert "    permissible unbalance => 81.7 g·mm\n")))

(step "hover shows the formula"
      (go-to "permissible unb")
      (eglot--signal-textDocument/didChange)
      (let ((hover (jsonrpc-request (eglot-current-server) :textDocument/hover (eglot--TextDocumentPositionParams))))
        (unless (string-search "9549" (format "%S" hover)) (fail "hover shows the formula: %S" hover))))

(step "completion offers the missing key"
      (set-buffer setup)
      (instead "  balancing speed: 1150 rpm" "  bal")
      (eglot--signal-textDocument/didChange)
      (pcase-let ((`(,from ,to ,table . ,_) (run-hook-with-args-until-success 'completion-at-point-functions)))
        (unless (seq-some (lambda (item) (string-search "balancing speed" item))
                          (all-completions (buffer-substring from to) table))
          (fail "`balancing speed` is offered where it is missing")))
      (instead "  bal" "  balancing speed: 1150 rpm"))

(step "completions are accepted whole, with their blanks"
      (set-buffer setup)
      (let ((before (buffer-string)))
        (go-to "  indicates: ")
        (delete-region (point) (line-end-position))
        (insert "heavy s")
        (completion-at-point)
        (unless (looking-back "^  indicates: heavy spot" (line-beginning-position))
          (fail "a choice of two words is completed: %S" (thing-at-point 'line)))
        (go-to "  rotor: ")
        (delete-region (point) (line-end-position))
        (insert "fan wheel 31")
        (completion-at-point)
        (unless (looking-back "^  rotor: \"fan wheel 315\"" (line-beginning-position))
          (fail "a name of three words is completed: %S" (thing-at-point 'line)))
        (erase-buffer)
        (insert before)
        (eglot--signal-textDocument/didChange)))

(step "a new sheet of a kind is begun"
      (set-buffer rotor)
      (cl-letf (((symbol-function 'completing-read)
                 (lambda (_prompt all &rest _)
                   (or (car (assoc "New machine" all)) (fail "a machine can be begun: %S" all))))
                ((symbol-function 'read-string) (lambda (&rest _) "test bench")))
        (call-interactively #'rotorbook-new-sheet))
      (unless (string-suffix-p "machines/test-bench.rotor" (buffer-file-name)) (fail "it has a file: %S" (buffer-file-name)))
      (unless (looking-at-p "\\? # ") (fail "point is at the first place to fill in: %S" (buffer-string)))
      (set-buffer-modified-p nil)
      (kill-buffer)
      (set-buffer rotor))

(step "a fix is applied"
      (set-buffer rotor)
      (instead "81.7 g·mm" "79.2 g·mm")
      (wait-for "a stale result is told" (lambda () (told "pinned-result-stale")))
      (go-to "79.2")
      (let* ((actions (eglot-code-actions (point) (point) "quickfix"))
             (fix (seq-find (lambda (action) (string-search "81.7" (plist-get action :title))) actions)))
        (unless fix (fail "a fix is offered: %S" actions))
        (eglot-execute (eglot-current-server) fix))
      (unless (string-search "permissible unbalance => 81.7 g·mm" (buffer-string)) (fail "the fix writes the result"))
      (wait-for "and the diagnostic goes" (lambda () (null (codes)))))

(step "format leaves a clean file"
      (let ((before (buffer-string)))
        (instead "  drawing: " "      drawing:    ")
        (eglot-format-buffer)
        (unless (equal before (buffer-string)) (fail "format takes the spaces away again")))
      (save-buffer))

(step "rename crosses files"
      (go-to "fan wheel 31")
      (eglot-rename "fan wheel 316")
      (with-current-buffer setup
        (unless (string-search "rotor: \"fan wheel 316\"" (buffer-string)) (fail "the setup follows")))
      (save-some-buffers t))

(step "the sheet is coloured"
      (font-lock-ensure)
      (go-to "grade")
      (unless (eq (get-text-property (1- (point)) 'face) 'font-lock-property-name-face) (fail "a key is coloured as one"))
      (go-to "rotor ")
      (unless (eq (get-text-property (match-beginning 0) 'face) 'font-lock-keyword-face) (fail "a kind, too"))
      (go-to "  plane hub {\n    at: ")
      (indent-region (point-min) (point-max))
      (when (buffer-modified-p) (fail "indentation is that of the layout")))

(kill-emacs 0)
