bayleaf.words("ye",{"ye":"2:k","yellow":"1:5,7,g"});
