"""Picture files, part by part: what shows the picture is kept, what the camera wrote about it is not."""
